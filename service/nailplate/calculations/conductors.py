"""Voltage drop and grounding conductors, asked without a plan."""

from typing import Annotated, Any

from nailplate.calc.electrodes import ElectrodeKind, electrode_conductor
from nailplate.calc.grounding import Upsized
from nailplate.calc.grounding import grounding_conductor as sized_grounding
from nailplate.calc.steps import Step
from nailplate.calc.voltage_drop import DropMethod, Run
from nailplate.calc.voltage_drop import voltage_drop as drop_along
from nailplate.calculations.asked import Request, calculation, measure_value, stated
from nailplate.codes import Edition, Material
from nailplate.plan import Facts, Fault, FaultCode, PlanRefused
from nailplate.plan.facts import AtMost, Doc, Key, MoreThan, Needed, drawn
from nailplate.plan.marks import Count, Current, Length, Voltage, WireSize
from nailplate.units import Measure, Unit, volts


@drawn
class VoltageDropRequest(Request):
    """One run of conductors."""

    voltage: Annotated[Voltage, AtMost(100_000.0), Doc("at the source"), Needed]
    phases: Annotated[Count, AtMost(3), Doc("1 unless said, or 3")]
    current: Annotated[Current, AtMost(10_000.0), Doc("of the load"), Needed]
    length: Annotated[Length, AtMost(1_200_000.0), Doc("one way"), Needed]
    size: Annotated[WireSize, Doc("of the conductors"), Needed]
    material: Annotated[Material, Doc("copper unless said")]
    method: Annotated[DropMethod, Doc("direct-current resistance unless said")]
    k: Annotated[float, MoreThan(0), AtMost(1_000.0), Doc("ohms of one circular mil over one foot, for the k_factor method")]
    power_factor: Annotated[float, MoreThan(0), AtMost(1.0), Doc("1 unless said, for the impedance method")]
    parallel: Annotated[Count, AtMost(100), Doc("conductors in parallel, 1 unless said")]
    stranded: Annotated[bool, Doc("solid up to 10 AWG and stranded above unless said")]


@drawn
class UpsizedConductors(Facts):
    """Ungrounded conductors larger than the smallest that would do."""

    least: Annotated[WireSize, Key("from"), Doc("the smallest that would do"), Needed]
    used: Annotated[WireSize, Key("to"), Doc("the size taken"), Needed]


@drawn
class ElectrodeRequest(Facts):
    """A grounding electrode conductor."""

    service_size: Annotated[WireSize, Doc("largest ungrounded supply conductor"), Needed]
    material: Annotated[Material, Doc("of the supply conductors, copper unless said")]
    electrode_kind: Annotated[ElectrodeKind, Doc("what it ends at, if it serves nothing else")]


@drawn
class GroundingConductorRequest(Request):
    """An equipment grounding conductor behind an overcurrent device, or a grounding electrode conductor."""

    overcurrent: Annotated[Current, AtMost(10_000.0), Doc("rating of the device ahead of the circuit")]
    material: Annotated[Material, Doc("of the grounding conductor, copper unless said")]
    upsized: Annotated[UpsizedConductors, Doc("if the circuit's conductors were enlarged")]
    electrode: Annotated[ElectrodeRequest, Doc("gives the electrode conductor too")]


@calculation(
    "voltage-drop",
    VoltageDropRequest,
    example={"edition": "2023", "voltage": "120 V", "current": "12 A", "length": "80 ft", "size": "12 AWG"},
)
def voltage_drop(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """The drop along one run, and the smallest sizes that keep it within 3 % and 5 %."""
    names = ("phases", "material", "method", "k", "power_factor", "parallel", "stranded")
    run = Run(
        voltage=request.voltage, current=request.current, length=request.length, size=request.size, **stated(request, *names)
    )
    found = drop_along(run, in_force)
    sizes = {f"{limit:g} %": size for limit, size in found.smallest.items() if size is not None}
    return {
        "drop": measure_value(volts(found.drop)),
        "percent": measure_value(Measure(found.percent, Unit.PERCENT)),
        "at_load": measure_value(volts(found.at_load)),
        "smallest_size_for": sizes,
    }, found.steps


@calculation(
    "grounding-conductor",
    GroundingConductorRequest,
    example={"edition": "2023", "overcurrent": "60 A", "upsized": {"from": "6 AWG", "to": "4 AWG"}},
)
def grounding_conductor(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """The equipment grounding conductor for an overcurrent device, or the grounding electrode conductor."""
    if not (request.knows("overcurrent") or request.knows("electrode")):
        wanted = "overcurrent is missing; or give electrode"
        raise PlanRefused((Fault(request.where("overcurrent"), FaultCode.MISSING_FIELD, wanted),))
    result: dict[str, Any] = {}
    steps: tuple[Step, ...] = ()
    if request.knows("overcurrent"):
        upsized = Upsized(request.upsized.least, request.upsized.used) if request.knows("upsized") else None
        found = sized_grounding(request.overcurrent, in_force, upsized=upsized, **stated(request, "material"))
        result, steps = {"size": found.size, "by_table": found.by_table}, found.steps
    if request.knows("electrode"):
        asked = request.electrode
        kind = asked.electrode_kind if asked.knows("electrode_kind") else ElectrodeKind.OTHER
        electrode = electrode_conductor(asked.service_size, in_force, kind=kind, **stated(asked, "material"))
        result, steps = {**result, "electrode_conductor": electrode.size}, (*steps, *electrode.steps)
    return result, steps
