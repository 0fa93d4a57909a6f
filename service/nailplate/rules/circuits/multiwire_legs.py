"""The two halves of a multiwire circuit are on opposite legs, and no device is in the way of their neutral.

Why: on opposite legs the neutral carries the difference of both currents; on one leg it carries their sum, and no breaker sees it.
A neutral that goes through a device is lost when the device is taken out, and what is beyond it gets up to twice its voltage.

Fix: move one breaker to the other leg; splice the shared neutral in the box and give each device a pigtail.

Trap: a plug-in adapter that feeds both legs of a panel from one 120 V source turns every multiwire circuit into an overloaded one.

Does not judge: handle ties, two-pole breakers and loads between the two hots (`multiwire-disconnect`), and how the conductors
are grouped in the panel. A neutral through a device is seen only where the plan says what a device is fed through; how it is
spliced is for a look on site.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Device
from nailplate.plan.words import Leg, SupplyVoltage
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, remove, state
from nailplate.survey.names import name_of
from nailplate.survey.wiring import Pair, circuit_tree, node_of_device, pairs_begun_by
from nailplate.units import amperes, shown

BOTH = frozenset(Leg)


@rule(
    id="multiwire-legs",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.MULTIWIRE,),
    cites={"nec-2017": Cite("Article 100 (branch circuit, multiwire), 210.4, 300.13(B)", note="from memory")},
    hazards=(Hazard.LOST_NEUTRAL, Hazard.OVERHEATING, Hazard.FIRE),
)
def multiwire_legs(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """One outcome for each pair, told of its first circuit, and one for each device that a shared neutral goes through."""
    pairs = pairs_begun_by(job.survey, circuit)
    if not pairs:
        yield NotConcerned()
    for pair in pairs:
        yield _legs(pair, job)
        yield from _through_devices(pair, job)


def _legs(pair: Pair, job: Job) -> Outcome:
    facet = pair.second.id
    if pair.unsaid:
        return Undetermined(pair.unsaid, "Whether its cables hold a neutral for each circuit is not said.", facet=facet)
    one_hot = _one_hot(pair, job)
    if one_hot:
        return _sum(pair, f"the supply of {one_hot} has one hot only", (Remedy("Pull a neutral for each circuit."),))
    unknown = tuple(half.where("legs") for half in pair.halves if not half.knows("legs"))
    if unknown:
        return Undetermined(unknown, facet=facet)
    legs = [frozenset(half.legs) for half in pair.halves]
    if all(len(each) == 1 for each in legs) and legs[0] != legs[1]:
        return Pass(facet=facet)
    if all(len(each) == 1 for each in legs):
        return _sum(pair, f"both are on leg {pair.first.legs[0]}", (_moved(pair, legs[0]),))
    double = next(half for half, each in zip(pair.halves, legs, strict=True) if len(each) > 1)
    said = f"{name_of(double)} is on both legs and can't be half of a multiwire circuit."
    return Violation(said, remedies=(Remedy("Draw it as a circuit of its own, or as two on one leg each."),), facet=facet)


def _one_hot(pair: Pair, job: Job) -> str | None:
    """The panel whose supply has 120 V only, if it is one of theirs."""
    panels = (job.plan.panels[half.panel] for half in pair.halves if half.knows("panel"))
    for panel in panels:
        supply = job.plan.supplies[panel.supply] if panel.knows("supply") else None
        if supply is not None and supply.is_(voltage=SupplyVoltage.V120):
            return name_of(panel)
    return None


def _sum(pair: Pair, why: str, remedies: tuple[Remedy, ...]) -> Violation:
    ratings = [half.breaker.rating for half in pair.halves if half.knows("breaker") and half.breaker.knows("rating")]
    both = len(ratings) == len(pair.halves)
    carries = f"up to {shown(amperes(sum(ratings)))}" if both else "the sum of both currents"
    first, second = (name_of(half) for half in pair.halves)
    return Violation(
        f"Circuits {first} and {second} share a neutral and {why}: it carries {carries}.",
        amperes(sum(ratings)) if both else None,
        amperes(max(ratings)) if both else None,
        remedies=remedies,
        facet=pair.second.id,
        related=(pair.second.pointer,),
    )


def _moved(pair: Pair, leg: frozenset[Leg]) -> Remedy:
    [other] = BOTH - leg
    words = f"Move the breaker of {name_of(pair.second)} to a space on leg {other}."
    spaces = (remove(pair.second.where("position")),) if pair.second.knows("position") else ()
    return Remedy(
        f"{words} Its spaces are to be listed anew." if spaces else words, (state(pair.second, "legs", [other.value]), *spaces)
    )


# The neutral through a device


def _through_devices(pair: Pair, job: Job) -> Iterator[Outcome]:
    """300.13(B): where a cable that carries both halves is fed from a device's LOAD side."""
    shared = set(pair.shared)
    for half in dict.fromkeys(pair.halves):
        tree = circuit_tree(job.survey, half)
        for device in job.survey.devices_on_circuit.get(half.id, ()):
            step = tree.steps.get(node_of_device(device))
            if device.knows("feed_through_source") and step is not None and step.cable in shared:
                yield _neutral_through(device, pair, job)


def _neutral_through(device: Device, pair: Pair, job: Job) -> Violation:
    source = job.plan.devices[device.feed_through_source]
    words = "Splice the shared neutral in the box and give the device a pigtail; protect the circuit with a two-pole breaker."
    return Violation(
        f"{name_of(device)} is fed through {name_of(source)} by a cable that holds the neutral of two circuits; with the device "
        "out, that neutral is open.",
        remedies=(Remedy(words, (remove(device.where("feed_through_source")),)),),
        facet=f"{pair.second.id} {device.id}",
        at=device.pointer,
        related=(source.pointer,),
    )
