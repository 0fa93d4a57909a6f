"""Cables that lie together in a sealed hole or in insulation still carry what their circuits draw.

Why: cables side by side in foam heat each other and cannot shed the heat; the insulation of the one in the middle is cooked.

Fix: give the cables holes of their own or space between them, or pull larger wire.

Trap: more than two cables count, not more than three conductors: three 14-2 cables in a foamed hole make six, and 0.8 of 25 A is still
more than their breaker. Four 10-2 cables have an ampacity of 28 A each; the next size up lets the 30 A breaker stand, but not a load of 29 A. A hole that
is not sealed is none of it, nor are one or two cables in foam; a bundle longer than 24 in counts anywhere.

Here the load is looked at: a circuit for cooking has to carry its rating (210.19), other loads count by their nameplates, a
motor's with 125 percent. Wire that lies in warm air is looked at too.

Does not judge: a breaker that the bundled wire may not have at all is told by `conductor-protection`, and so is what a motor's
or air conditioner's nameplate asks of its wire.
"""

from dataclasses import dataclass

from nailplate.calc.ampacity import adjustment_factor
from nailplate.codes import Edition
from nailplate.plan import Cable, Circuit, Pointer, Segment
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.survey.loads import Attached, Trade, fed_by
from nailplate.survey.names import name_of
from nailplate.survey.wiring import (
    MOST_NAMED,
    STANDARD_AMBIENT,
    Stretch,
    Wire,
    bundle_name,
    circuit_wire,
    has_ampacity,
    is_power_cable,
    open_facts,
    stretches,
    where_it_lies,
)
from nailplate.units import Amperes, Measure, Unit, amperes, reaches, shown, within


@rule(
    id="bundled-in-insulation",
    over=Cable,
    severity=Severity.DANGER,
    subjects=(Subject.BUNDLES,),
    provisions=("insulation_bars_short_run_exception",),
    cites={
        "nec-2017": Cite(
            "334.80, 310.15(B)(3)(a), 210.19(A)(1)",
            seen=(2017,),
            note="https://thebuildingcodeforum.com and http://mikeholt.com/dailycodetipcalendar.php (334.80)",
        ),
        "nec-2020": Cite("334.80, 310.15(C)(1), 210.19(A)(1)", seen=(2020,), note="a public reprint of the 2020 code text"),
        "nec-2023": Cite("334.80, 310.15(C)(1), 210.19(A)(1)", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "334.80, 310.15(C)(1), 210.19(A)(1)",
    },
    hazards=(Hazard.OVERHEATING, Hazard.FIRE, Hazard.BURIED),
    changes={
        "nec-2020": "The adjustment table has a new number; what 334.80 requires is the same.",
    },
)
def bundled_in_insulation(cable: Cable, job: Job) -> Outcome:
    """Judges one cable where it is worst off."""
    if not (is_power_cable(cable) and cable.knows("circuit", "size", "route")):
        return NotConcerned()
    circuit = job.plan.circuits[cable.circuit]
    wire = Wire(circuit, cable, cable.size, cable, job.survey, job.edition)
    told_elsewhere = not circuit_wire(job.survey, circuit, job.edition).allows_breaker
    found = _reduced(cable, circuit, job.edition, wire)
    if not found or not has_ampacity(wire) or told_elsewhere or _by_nameplate(circuit, job):
        return NotConcerned()
    worst = min(found, key=lambda each: where_it_lies(wire, each.stretch, strict=True, worst=True))
    carried = [circuit, *((job.plan.circuits[cable.second_circuit],) if cable.knows("second_circuit") else ())]
    return _judged(wire, worst, max(_load(each, job) for each in carried))


@dataclass(frozen=True, slots=True)
class _Place:
    """A stretch of the route that takes from the wire's ampacity."""

    segment: Segment
    stretch: Stretch


def _reduced(cable: Cable, circuit: Circuit, edition: Edition, wire: Wire) -> list[_Place]:
    runs = stretches(wire.survey, cable, circuit, edition)
    if len(runs) != len(cable.route):
        return []
    return [_Place(segment, run) for segment, run in zip(cable.route, runs, strict=True) if _takes(run, edition)]


def _takes(run: Stretch, edition: Edition) -> bool:
    return run.strict[1] > edition.number("conductors_without_adjustment") or not within(run.ambient[1], STANDARD_AMBIENT)


def _by_nameplate(circuit: Circuit, job: Job) -> bool:
    """A machine alone on its circuit whose nameplate says what its wire must bear."""
    fed = fed_by(job.survey, circuit)
    return fed.outlets == 1 and any(each.knows("minimum_circuit", "max_overcurrent") for each in fed.appliances)


def _load(circuit: Circuit, job: Job) -> float:
    """What is known to be drawn, as far as the breaker lets it; past that other rules tell."""
    loads = [each for each in fed_by(job.survey, circuit).loads if each.attached is not Attached.CARRIED]
    if any(each.trade is Trade.COOKING for each in loads):
        return circuit.breaker.rating
    drawn = sum(each.least * (job.share("motor_conductor_share") if each.trade is Trade.MOTOR else 1.0) for each in loads)
    return min(drawn, circuit.breaker.rating)


def _judged(wire: Wire, place: _Place, load: float) -> Outcome:
    strict, literal = (
        [where_it_lies(wire, place.stretch, strict=strict, worst=worst) for worst in (True, False)] for strict in (True, False)
    )
    fits = [reaches(each, load) for each in (*strict, *literal)]
    if all(fits):
        return Pass(amperes(strict[0]), amperes(load) if load else None)
    if not any(fits):
        return _too_hot(wire, place, strict[1], load)
    if fits[0] != fits[1]:
        return Undetermined(tuple(dict.fromkeys((*place.stretch.open, *open_facts(wire))))[:MOST_NAMED])
    return _two_ways(wire, place, (strict[0], literal[0]), load)


# What is said


def _too_hot(wire: Wire, place: _Place, borne: Amperes, load: float) -> Violation:
    count, _ = place.stretch.strict
    remedies = [*_apart(place), Remedy("Pull larger wire all the way.")]
    return Violation(
        f"{name_of(wire.at)}, {wire.size}, has an ampacity of {shown(amperes(borne))} {_where(place, count, wire)}; {name_of(wire.circuit)} needs "
        f"{shown(amperes(load))}.",
        amperes(borne),
        amperes(load),
        tuple(remedies),
        at=wire.at.pointer,
        related=(wire.circuit.pointer, _pointer(place)),
    )


def _where(place: _Place, count: int, wire: Wire) -> str:
    name = bundle_name(place.segment)
    factor = adjustment_factor(count, wire.edition)
    warm = place.stretch.ambient[0]
    air = "" if within(warm, STANDARD_AMBIENT) else f" in air of {shown(Measure(warm, Unit.CELSIUS))}"
    if name is None or count <= wire.edition.number("conductors_without_adjustment"):
        return f"where it lies{air}"
    kind = (
        "in a sealed hole"
        if _said(place.segment, "sealed")
        else "in insulation"
        if _said(place.segment, "insulation_contact")
        else ""
    )
    return f"in bundle '{name}'{f' {kind}' if kind else ''}{air}, where {count} conductors carry current (factor {factor:g})"


def _said(segment: Segment, name: str) -> bool:
    return segment.knows(name) and bool(getattr(segment, name))


def _pointer(place: _Place) -> Pointer:
    return place.segment.pointer


def _apart(place: _Place) -> list[Remedy]:
    if bundle_name(place.segment) is None:
        return []
    change = (state(place.segment, "bundle", "none"),)
    return [Remedy("Give this cable a hole of its own there, with space to the others.", change)]


def _two_ways(wire: Wire, place: _Place, borne: tuple[Amperes, Amperes], load: float) -> Judgement:
    strict, literal = borne
    readings = (
        Reading(f"Every conductor in the bundle counts, and its length by this cable: {shown(amperes(strict))}.", "violation"),
        Reading(f"Of travelers one carries current, and the length counts by the circuit: {shown(amperes(literal))}.", "pass"),
    )
    said = f"How the bundle of {name_of(wire.at)} is counted decides whether it carries the {shown(amperes(load))} of {name_of(wire.circuit)}."
    return Judgement(said, readings, amperes(strict), amperes(load), tuple(_apart(place)), related=(wire.circuit.pointer,))
