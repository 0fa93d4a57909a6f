"""A breaker is no larger than its smallest wire can bear.

Why: a wire that may carry more than its insulation stands overheats inside the wall, and the breaker never trips.

Put it right: use a smaller breaker, or larger wire all the way from the panel to the last outlet.
"""

from collections.abc import Iterator

from nailplate.calc.ampacity import ConductorUse, Method, ampacity
from nailplate.calc.overcurrent import max_overcurrent
from nailplate.calc.steps import CalculationError
from nailplate.codes import Column, Material
from nailplate.plan import Cable, Circuit, Part, Pointer, Segment
from nailplate.plan.words import CableType, DeviceKind, How
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    NotConcerned,
    Outcome,
    Pass,
    Remedy,
    Severity,
    Undetermined,
    Violation,
    replace,
    rule,
)
from nailplate.survey import Survey
from nailplate.units import Amperes, Celsius, amperes, reaches, shown, within

STANDARD_AMBIENT = Celsius(30.0)
"""What the ampacity table is made for; a plan that states a warmer place is corrected for it."""
BUNDLED_APART = 24.0
"""Inches without spacing up to which 310.15(C)(1) asks for no adjustment."""
MOST_NAMED = 5
"""Missing facts that one outcome names; they are all of one kind."""
FEW_CABLES = 2
"""334.80 speaks of more than two cables."""
_METHODS = {CableType.NM_B: Method.NM_B, CableType.UF_B: Method.UF_B, CableType.SE: Method.SE}


@rule(
    id="conductor-protection",
    over=Circuit,
    severity=Severity.DANGER,
    cites={
        "nec-2017": Cite(
            "240.4", seen=(2017, 2020, 2023), note="public copies of code text and trade press on 240.4(B) and (D)"
        )
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
)
def conductor_protection(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """240.4(B) and (D), 310.16, 334.80. One outcome for the circuit's own wire, one for each cable of another size."""
    cables = [cable for cable in job.survey.cables_on_circuit.get(circuit.id, []) if not _low_voltage(cable)]
    nameplate = _by_nameplate(circuit, job)
    if nameplate:
        yield nameplate
        return
    stated = circuit.conductor.size if circuit.knows("conductor") and circuit.conductor.knows("size") else None
    if stated or not cables:
        yield _judged(circuit, circuit, circuit.conductor.size, _hardest(cables, stated), job)
    for cable in cables:
        if cable.size != stated:
            yield _judged(circuit, cable, cable.size, cable, job)
    open_facts = _unsaid(cables, job)
    if open_facts:
        said = "How its cables run together is not said, and conductors that are bundled bear less (310.15(C)(1), 334.80)."
        yield Undetermined(open_facts, said, facet="bundle")


def _unsaid(cables: list[Cable], job: Job) -> tuple[Pointer, ...]:
    """Where the plan leaves out whether cables are bundled; `none` is a fact, and so is a run in a raceway of its own."""
    if not cables:
        return (job.plan.where("cables"),)
    routed = [segment for cable in cables for segment in _route(cable)]
    missing = [cable.where("route") for cable in cables if not cable.knows("route")]
    missing += [segment.where("bundle") for segment in routed if not segment.knows("bundle") and segment.how is not How.RACEWAY]
    return tuple(missing[:MOST_NAMED])


def _low_voltage(cable: Cable) -> bool:
    return cable.knows("low_voltage") and cable.low_voltage


def _hardest(cables: list[Cable], size: str | None) -> Cable | None:
    """The first cable of that size that is bundled, else any: the circuit's own wire is judged where it is worst off."""
    same = [cable for cable in cables if cable.size == size]
    bundled = [cable for cable in same if any(_bundle(segment) for segment in _route(cable))]
    return next(iter(bundled or same), None)


def _judged(circuit: Circuit, at: Part, size: str, cable: Cable | None, job: Job) -> Outcome:
    rating = circuit.breaker.rating
    facet = "" if at is circuit else at.id
    try:
        figures = ampacity(_use(circuit, size, cable, job), job.edition)
        limits = max_overcurrent(figures.ampacity, size, _material(circuit, cable), job.edition)
    except CalculationError as error:
        return Violation(f"{size} has no ampacity for this: {error}.", amperes(rating), facet=facet, at=at.pointer)
    limit = limits.cord_and_plug_receptacles if _several_receptacles(circuit, job.survey) else limits.next_size_up
    if limit.rating is not None and within(rating, limit.rating):
        return Pass(amperes(rating), amperes(limit.rating), facet=facet)
    most = f"a breaker of at most {shown(amperes(limit.rating))}" if limit.rating is not None else "no standard breaker"
    said = f"The breaker is {shown(amperes(rating))}; {size} wire with an ampacity of {shown(amperes(figures.ampacity))} here allows {most} ({limit.by})."
    remedies = (_smaller(circuit, limit.rating),) if limit.rating is not None else ()
    found = amperes(limit.rating) if limit.rating is not None else amperes(0.0)
    return Violation(said, amperes(rating), found, remedies=remedies, facet=facet, at=at.pointer, related=(circuit.pointer,))


def _smaller(circuit: Circuit, rating: Amperes) -> Remedy:
    words = f"Use a breaker of {shown(amperes(rating))}, if the loads allow it; else pull larger wire."
    return Remedy(words, (replace(circuit.breaker.where("rating"), f"{rating:g} A"),))


def _use(circuit: Circuit, size: str, cable: Cable | None, job: Job) -> ConductorUse:
    conductor = circuit.conductor if circuit.knows("conductor") else None
    kind = cable.type if cable is not None else circuit.conductor.type
    ambients = [segment.ambient for segment in _route(cable) if segment.knows("ambient")]
    ambients += [conductor.ambient] if conductor is not None and conductor.knows("ambient") else []
    terminations = Column(conductor.terminations.value) if conductor is not None and conductor.knows("terminations") else None
    insulation = Column(conductor.insulation.value) if conductor is not None and conductor.knows("insulation") else None
    return ConductorUse(
        size=size,
        material=_material(circuit, cable),
        method=_METHODS.get(kind),
        insulation=insulation,
        current_carrying=_current_carrying(cable, job.survey),
        terminations=terminations,
        ambient=max(ambients) if ambients else STANDARD_AMBIENT,
    )


def _material(circuit: Circuit, cable: Cable | None) -> Material:
    """Copper unless said: copper is what NM-B and UF-B are sold as, and the smaller sizes exist in nothing else."""
    for part in (cable, circuit.conductor if circuit.knows("conductor") else None):
        if part is not None and part.knows("material"):
            return Material(part.material.value)
    return Material.COPPER


def _route(cable: Cable | None) -> tuple[Segment, ...]:
    return cable.route if cable is not None and cable.knows("route") else ()


def _bundle(segment: Segment) -> str | None:
    name = segment.bundle if segment.knows("bundle") else "none"
    return None if name == "none" else name


def _current_carrying(cable: Cable | None, survey: Survey) -> int:
    """Current-carrying conductors bundled with this cable's, by the worst of its segments."""
    own = _carrying(cable) if cable is not None else 2
    return max([own, *(_in_bundle(segment, survey) for segment in _route(cable) if _bundle(segment))])


def _in_bundle(segment: Segment, survey: Survey) -> int:
    together = survey.once(_bundles).get(_bundle(segment) or "", [])
    in_insulation = any(segment.knows(name) and getattr(segment, name) for name in ("insulation_contact", "sealed"))
    long = segment.knows("bundled_length") and not within(segment.bundled_length, BUNDLED_APART)
    if (in_insulation and len(together) > FEW_CABLES) or long:
        return sum(_carrying(cable) for cable in together)
    return 0


def _bundles(survey: Survey) -> dict[str, list[Cable]]:
    found: dict[str, list[Cable]] = {}
    for cable in survey.plan.cables.values():
        for name in dict.fromkeys(_bundle(segment) for segment in _route(cable)):
            if name:
                found.setdefault(name, []).append(cable)
    return found


def _carrying(cable: Cable) -> int:
    """The neutral of a multiwire circuit carries only what is unbalanced and is not counted (310.15(E))."""
    return cable.insulated - 1 if cable.knows("second_circuit") else cable.insulated


def _several_receptacles(circuit: Circuit, survey: Survey) -> bool:
    kinds = [device.kind for device in survey.devices_on_circuit.get(circuit.id, [])]
    return kinds.count(DeviceKind.RECEPTACLE) > 1


def _by_nameplate(circuit: Circuit, job: Job) -> Outcome | None:
    """Listed heating and air-conditioning equipment goes by its nameplate (240.4(G), Article 440); a motor by Article 430."""
    appliances = job.survey.appliances_on_circuit.get(circuit.id, [])
    if len(appliances) != 1:
        return None
    machine = appliances[0]
    if machine.knows("hp"):
        return NotConcerned()
    if not (machine.knows("listed_hvac") and machine.listed_hvac and machine.knows("max_overcurrent", "minimum_circuit")):
        return None
    figures = ampacity(_use(circuit, circuit.conductor.size, None, job), job.edition)
    if within(circuit.breaker.rating, machine.max_overcurrent) and reaches(figures.ampacity, machine.minimum_circuit):
        return Pass(amperes(circuit.breaker.rating), amperes(machine.max_overcurrent))
    said = (
        f"The nameplate asks for a circuit of at least {shown(amperes(machine.minimum_circuit))} and a breaker of at most "
        f"{shown(amperes(machine.max_overcurrent))}; the wire bears {shown(amperes(figures.ampacity))} and the breaker is "
        f"{shown(amperes(circuit.breaker.rating))}."
    )
    remedies = (_smaller(circuit, machine.max_overcurrent),) if reaches(figures.ampacity, machine.minimum_circuit) else ()
    return Violation(said, amperes(circuit.breaker.rating), amperes(machine.max_overcurrent), remedies=remedies)
