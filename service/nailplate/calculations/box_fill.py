"""Box fill, asked without a plan."""

from collections.abc import Iterable
from typing import Annotated, Any

from nailplate.calc.box_fill import (
    BoxContents,
    Conductors,
    FixtureWires,
    GroundingConductors,
    Run,
    SupportFitting,
    Yoke,
    run_of_unbroken,
)
from nailplate.calc.box_fill import box_fill as worked_fill
from nailplate.calc.steps import Step
from nailplate.calculations.asked import Request, calculation, given, measure_value
from nailplate.codes import Edition
from nailplate.codes.tables import BoxFillAllowances
from nailplate.plan import Facts
from nailplate.plan.facts import Doc, Items, Needed, OrAlone, drawn
from nailplate.plan.marks import Count, Distance, TradeSize, Volume, WireSize
from nailplate.plan.words import SupportFitting as FittingKind
from nailplate.units import CubicInches, cubic_inches


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


@calculation(
    "box-fill",
    BoxFillRequest,
    example={
        "edition": "2023",
        "conductors": [{"size": "14 AWG", "count": 4}],
        "grounding_conductors": [{"size": "14 AWG", "count": 2}],
        "devices": [{"size": "14 AWG"}],
        "internal_clamps": True,
        "trade_size": "3 x 2 x 2-1/2 device",
    },
)
def box_fill(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """What the contents of a box count for, line by line, against its volume where that is given."""
    volume = request.volume if request.knows("volume") else None
    answer = worked_fill(
        _contents(request, in_force.box_fill), in_force, volume=volume, trade_sizes=given(request, "trade_size")
    )
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
