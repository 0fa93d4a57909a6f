"""Voltage drop and grounding conductors, asked without a plan."""

from typing import Annotated, Any

from nailplate.calc.electrodes import ElectrodeKind, electrode_conductor
from nailplate.calc.grounding import Upsized, grounding_conductor
from nailplate.calc.steps import Step
from nailplate.calc.voltage_drop import DropMethod, Run, voltage_drop
from nailplate.codes import Edition, Material
from nailplate.plan import Facts, Fault, FaultCode, PlanRefused
from nailplate.plan.facts import AtMost, Doc, Key, MoreThan, Needed, drawn
from nailplate.plan.marks import Count, Current, Length, Voltage, WireSize
from nailplate.units import Measure, Unit, volts
from nailplate.wire.calculation_base import Request, Working, measure_value, stated


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
    electrode: Annotated[ElectrodeRequest, Doc("asks for the electrode conductor")]


def _voltage_drop(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    names = ("phases", "material", "method", "k", "power_factor", "parallel", "stranded")
    run = Run(
        voltage=request.voltage, current=request.current, length=request.length, size=request.size, **stated(request, *names)
    )
    found = voltage_drop(run, in_force)
    sizes = {f"{limit:g} %": size for limit, size in found.smallest.items() if size is not None}
    return {
        "drop": measure_value(volts(found.drop)),
        "percent": measure_value(Measure(found.percent, Unit.PERCENT)),
        "at_load": measure_value(volts(found.at_load)),
        "smallest_size_for": sizes,
    }, found.steps


def _grounding_conductor(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    if not (request.knows("overcurrent") or request.knows("electrode")):
        wanted = "overcurrent is missing; or give electrode"
        raise PlanRefused((Fault(request.where("overcurrent"), FaultCode.MISSING_FIELD, wanted),))
    result: dict[str, Any] = {}
    steps: tuple[Step, ...] = ()
    if request.knows("overcurrent"):
        upsized = Upsized(request.upsized.least, request.upsized.used) if request.knows("upsized") else None
        found = grounding_conductor(request.overcurrent, in_force, upsized=upsized, **stated(request, "material"))
        result, steps = {"size": found.size, "by_table": found.by_table}, found.steps
    if request.knows("electrode"):
        asked = request.electrode
        kind = asked.electrode_kind if asked.knows("electrode_kind") else ElectrodeKind.OTHER
        electrode = electrode_conductor(asked.service_size, in_force, kind=kind, **stated(asked, "material"))
        result, steps = {**result, "electrode_conductor": electrode.size}, (*steps, *electrode.steps)
    return result, steps


CONDUCTOR_CALCULATIONS: dict[str, tuple[type[Request], Working]] = {
    "voltage-drop": (VoltageDropRequest, _voltage_drop),
    "grounding-conductor": (GroundingConductorRequest, _grounding_conductor),
}
