"""Calculations without a plan: a request's JSON in, the figure with its steps and sections out.

Errors: ``PlanRefused`` with the faults of the request, ``KeyError`` for a name that is no calculation.
"""

from collections.abc import Iterable
from typing import Annotated, Any

from marshmallow import ValidationError

from nailplate.calc.box_fill import (
    BoxContents,
    Conductors,
    FixtureWires,
    GroundingConductors,
    Run,
    SupportFitting,
    Yoke,
    box_fill,
    run_of_unbroken,
)
from nailplate.calc.spacing import RunKind, spacing
from nailplate.calc.steps import CalculationError, Step
from nailplate.codes import Edition, edition
from nailplate.codes.tables import BoxFillAllowances
from nailplate.plan import ROOT, Facts, Fault, FaultCode, PlanRefused
from nailplate.plan.facts import AtMost, Doc, Items, Needed, OrAlone, drawn
from nailplate.plan.marks import Count, Distance, Length, TradeSize, Volume, WireSize
from nailplate.plan.words import SupportFitting as FittingKind
from nailplate.review.cautions import STANDING
from nailplate.units import CubicInches, Inches, cubic_inches, inches
from nailplate.wire.ampacity_calculation import AMPACITY_CALCULATION
from nailplate.wire.calculation_base import Request, Working, given, measure_value
from nailplate.wire.conductor_calculations import CONDUCTOR_CALCULATIONS
from nailplate.wire.fields import found
from nailplate.wire.json_schema import facts_schema
from nailplate.wire.load_calculations import LOAD_CALCULATIONS
from nailplate.wire.plan_schema import schema_of
from nailplate.wire.reading import built, faults_in
from nailplate.wire.switching_calculation import SWITCHING_CALCULATIONS

LONGEST_RUN = 12_000.0
"""Inches of wall or counter: 1000 ft."""


@drawn
class SizedCount(Facts):
    """Conductors of one size."""

    size: Annotated[WireSize, Doc("their size"), Needed]
    count: Annotated[Count, Doc("how many"), Needed]


@drawn
class FillConductors(SizedCount):
    """Insulated conductors of one size."""

    loop: Annotated[
        Distance, Doc("of conductors that pass unbroken, the length left in the box; left out where they end in it")
    ]


@drawn
class FillDevice(Facts):
    """One yoke."""

    size: Annotated[WireSize, Doc("largest conductor on it"), Needed]
    gangs: Annotated[Count, Doc("its width, 1 unless said")]


@drawn
class FillFitting(Facts):
    """A stud or hickey."""

    kind: Annotated[FittingKind, Doc("which")]
    size: Annotated[WireSize, Doc("the conductor that it counts for")]


@drawn
class FillWires(Facts):
    """A luminaire's own wires."""

    size: Annotated[WireSize, Doc("their size"), Needed]
    count: Annotated[Count, Doc("how many"), Needed]
    through_canopy: Annotated[bool, Doc("they come from a domed canopy and end in the box")]


@drawn
class FillBlock(Facts):
    """A terminal block assembly."""

    size: Annotated[WireSize, Doc("largest conductor on it"), Needed]


@drawn
class BoxFillRequest(Request):
    """What a box holds."""

    conductors: Annotated[tuple[FillConductors, ...], Doc("insulated, entering or spliced; pigtails left out"), Items(0, 50)]
    grounding_conductors: Annotated[tuple[SizedCount, ...], Doc("equipment grounding conductors"), Items(0, 50)]
    isolated_grounding: Annotated[tuple[SizedCount, ...], Doc("a second, isolated set"), Items(0, 50)]
    devices: Annotated[tuple[FillDevice, ...], Doc("one entry per yoke"), Items(0, 50)]
    internal_clamps: Annotated[bool, Doc("whether there are clamps inside")]
    clamp_size: Annotated[WireSize, Doc("largest conductor present, where it is none of those given")]
    support_fittings: Annotated[tuple[FillFitting, ...], Doc("studs and hickeys"), Items(0, 10)]
    fixture_wires: Annotated[tuple[FillWires, ...], Doc("wires of a luminaire"), Items(0, 50)]
    terminal_blocks: Annotated[tuple[FillBlock, ...], Doc("terminal block assemblies"), Items(0, 10)]
    volume: Annotated[Volume, Doc("marked volume")]
    trade_size: Annotated[tuple[TradeSize, ...], Doc("standard boxes and rings, one or several, summed"), Items(1, 20), OrAlone]


@drawn
class SpacingRequest(Request):
    """One unbroken run of wall or counter."""

    kind: Annotated[RunKind, Doc("wall or counter"), Needed]
    run: Annotated[Length, Doc("its length"), AtMost(LONGEST_RUN), Needed]
    positions: Annotated[tuple[Distance, ...], Doc("receptacles along it"), Items(0, 200)]


def calculate(name: str, value: object) -> dict[str, Any]:
    """The answer of one calculation. Raises KeyError and PlanRefused."""
    request_kind, work_out = CALCULATIONS[name]
    request = _read(request_kind, value)
    in_force = edition(request.edition)
    try:
        result, steps = work_out(request, in_force)
    except CalculationError as error:
        raise PlanRefused((Fault(ROOT, FaultCode.BAD_VALUE, str(error)),)) from None
    return {
        "name": name,
        "edition": str(in_force.year),
        "result": result,
        "steps": [_step(step) for step in steps],
        "citations": list(dict.fromkeys(step.citation for step in steps if step.citation)),
        "cautions": list(STANDING),
    }


def _read(kind: type[Request], value: object) -> Request:
    if not isinstance(value, dict):
        raise PlanRefused((Fault(ROOT, FaultCode.WRONG_TYPE, f"{found(value)} was found; an object was wanted"),))
    try:
        request: Request = built(schema_of(kind)().load(value), ROOT)
        return request
    except ValidationError as error:
        raise PlanRefused(tuple(faults_in(error.messages, ROOT))) from None


def _step(step: Step) -> dict[str, Any]:
    said: dict[str, Any] = {"what": step.what, **measure_value(step.measure), "citation": step.citation}
    return {**said, "note": step.note} if step.note else said


def _contents(request: BoxFillRequest, table: BoxFillAllowances) -> BoxContents:
    return BoxContents(
        conductors=tuple(Conductors(each.size, each.count, _run(each, table)) for each in given(request, "conductors")),
        grounding_conductors=tuple(
            GroundingConductors(each.size, each.count) for each in given(request, "grounding_conductors")
        ),
        isolated_grounding=tuple(GroundingConductors(each.size, each.count) for each in given(request, "isolated_grounding")),
        yokes=tuple(Yoke(each.size, each.gangs if each.knows("gangs") else 1) for each in given(request, "devices")),
        internal_clamps=bool(given(request, "internal_clamps")),
        clamp_size=request.clamp_size if request.knows("clamp_size") else None,
        support_fittings=tuple(_fittings(given(request, "support_fittings"))),
        fixture_wires=tuple(
            FixtureWires(each.size, each.count, bool(given(each, "through_canopy"))) for each in given(request, "fixture_wires")
        ),
        terminal_blocks=tuple(each.size for each in given(request, "terminal_blocks")),
    )


def _run(conductors: FillConductors, table: BoxFillAllowances) -> Run:
    return run_of_unbroken(conductors.loop, table) if conductors.knows("loop") else Run.ENDS


def _fittings(fittings: Iterable[FillFitting]) -> Iterable[SupportFitting]:
    for number, each in enumerate(fittings):
        kind = each.kind.value if each.knows("kind") else f"fitting {number + 1}"
        yield SupportFitting(kind, each.size if each.knows("size") else None)


def _box_fill(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    volume = request.volume if request.knows("volume") else None
    answer = box_fill(_contents(request, in_force.box_fill), in_force, volume=volume, trade_sizes=given(request, "trade_size"))
    result: dict[str, Any] = {"counted": measure_value(cubic_inches(answer.counted))}
    if answer.volume is not None:
        spare = answer.spare if answer.spare is not None else CubicInches(0.0)
        result |= {
            "volume": measure_value(cubic_inches(answer.volume)),
            "fits": answer.fits,
            "spare": measure_value(cubic_inches(spare)),
        }
    if answer.smallest_standard:
        result["smallest_standard"] = answer.smallest_standard
    return result, answer.steps


def _spacing(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    answer = spacing(request.kind, Inches(request.run), given(request, "positions"), in_force)
    result = {
        "required": answer.required,
        "covered": answer.covered,
        "gaps": [{"from": measure_value(inches(gap.start)), "to": measure_value(inches(gap.end))} for gap in answer.gaps],
        "suggested": [measure_value(inches(place)) for place in answer.suggested],
    }
    return result, answer.steps


CALCULATIONS: dict[str, tuple[type[Request], Working]] = {
    "box-fill": (BoxFillRequest, _box_fill),
    **AMPACITY_CALCULATION,
    "spacing": (SpacingRequest, _spacing),
    **CONDUCTOR_CALCULATIONS,
    **LOAD_CALCULATIONS,
    **SWITCHING_CALCULATIONS,
}
"""Name to the request that it takes and how it is worked out."""


def calculation_schemas() -> dict[str, dict[str, Any]]:
    """Name of each calculation to the JSON Schema of its request."""
    return {
        name: facts_schema(kind, f"{name}-request", f"nailplate calculation: {name}")
        for name, (kind, _) in CALCULATIONS.items()
    }
