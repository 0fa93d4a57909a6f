"""A panel has a space for every circuit, none is taken twice, 240 V stand on both legs, and its directory tells what each is for.

Why: two circuits on one breaker, or a breaker that its panel is not made for, end in loose and overheated wires; and whoever turns off the
wrong breaker works on live parts.

Fix: choose a panel with room to spare, give each circuit its own space, and write down what each serves so that it can be told
from every other.

Trap: a two-pole breaker takes two spaces of opposite legs, and the breaker of a feeder that starts here takes room too; half-size breakers
fit only the spaces that the panel is listed for, which the plan does not say. The words of 2023 want the directory's text at plan review.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Panel, Supply
from nailplate.rulekit import (
    Cite,
    Hazard,
    Job,
    NotConcerned,
    Outcome,
    Pass,
    Remedy,
    Severity,
    Subject,
    Undetermined,
    Violation,
    rule,
    state,
)
from nailplate.survey.loads import circuits_of, feeders_from, has_one_leg
from nailplate.survey.names import name_of
from nailplate.units import count, reaches, shown, volts

_TWO_LEGS = 200.0


@rule(
    id="panel-spaces",
    over=Panel,
    severity=Severity.CODE,
    subjects=(Subject.PANELS,),
    cites={
        "nec-2017": "408.54, 408.4(A), 110.3(B), 240.15(B)",
        "nec-2023": Cite(
            "408.54, 408.4(A), 110.3(B), 240.15(B)",
            seen=(2023,),
            note="https://www.ecmag.com/magazine/articles/article-detail/"
            "more-revisions-and-additions-to-chapter-4-accepting-(nec)-change-part-11 (408.4)",
        ),
        "nec-2026": "408.54, 408.4(A), 110.3(B), 240.15(B)",
    },
    hazards=(Hazard.OVERHEATING, Hazard.SHOCK),
    changes={"nec-2023": "The directory's text is to exist at plan review."},
)
def panel_spaces(panel: Panel, job: Job) -> Iterator[Outcome]:
    """Judges one panel: how many spaces are taken, whether one is taken twice, and the directory."""
    circuits = circuits_of(job.survey, panel)
    if not circuits:
        yield NotConcerned()
        return
    yield _enough(panel, circuits, feeders_from(job.survey, panel))
    yield from _each_once(panel, circuits)
    if not (panel.knows("supply") and has_one_leg(job.plan.supplies[panel.supply])):
        yield from _on_two_legs(circuits)
    yield _directory(panel, circuits)


def _enough(panel: Panel, circuits: list[Circuit], feeders: list[Supply]) -> Outcome:
    unknown = [circuit for circuit in circuits if _poles(circuit) is None]
    taken = sum(_poles(circuit) or 1 for circuit in circuits) + sum(1 if has_one_leg(each) else 2 for each in feeders)
    if not panel.knows("spaces"):
        return Undetermined((panel.where("spaces"),), facet="spaces")
    if taken > panel.spaces:
        what = "circuits and feeders" if feeders else "circuits"
        message = f"{name_of(panel)} has {panel.spaces} spaces; its {what} take {taken}."
        return Violation(message, count(taken), count(panel.spaces), (Remedy("Choose a larger panel."),), facet="spaces")
    if unknown and taken + len(unknown) > panel.spaces:
        return Undetermined(tuple(circuit.pointer / "breaker" / "poles" for circuit in unknown), facet="spaces")
    return Pass(count(taken), count(panel.spaces), "spaces")


def _poles(circuit: Circuit) -> int | None:
    if circuit.knows("position"):
        return len(circuit.position)
    return circuit.breaker.poles if circuit.knows("breaker") and circuit.breaker.knows("poles") else None


def _each_once(panel: Panel, circuits: list[Circuit]) -> Iterator[Outcome]:
    """Positions that two circuits share, or that the panel does not have."""
    taken: dict[int, Circuit] = {}
    for circuit in circuits:
        for place in circuit.position if circuit.knows("position") else ():
            if place in taken:
                yield _doubled(place, circuit, taken[place])
            elif panel.knows("spaces") and place > panel.spaces:
                yield _beyond(panel, place, circuit)
            taken.setdefault(place, circuit)


def _on_two_legs(circuits: list[Circuit]) -> Iterator[Outcome]:
    """A 240 V circuit is on both legs, behind two poles or two breakers side by side."""
    for circuit in circuits:
        if not circuit.knows("voltage") or not reaches(circuit.voltage, _TWO_LEGS):
            continue
        if circuit.knows("legs") and len(set(circuit.legs)) == 1:
            yield _on_one_leg(circuit, f"drawn on leg {circuit.legs[0].value} alone, where it has no voltage between its hots")
        elif _most_poles(circuit) == 1:
            yield _on_one_leg(circuit, "behind a breaker of one pole, which leaves its other hot on")


def _most_poles(circuit: Circuit) -> int:
    """By its breaker or by the spaces that it takes; 0 where neither is said."""
    stated = circuit.breaker.poles if circuit.knows("breaker") and circuit.breaker.knows("poles") else 0
    return max(stated, len(circuit.position) if circuit.knows("position") else 0)


def _on_one_leg(circuit: Circuit, how: str) -> Violation:
    return Violation(
        f"{name_of(circuit)} is for {shown(volts(circuit.voltage))} and {how}.",
        remedies=(Remedy("Give it a two-pole breaker on both legs."),),
        facet=f"legs {circuit.id}",
        related=(circuit.pointer,),
    )


def _doubled(place: int, circuit: Circuit, other: Circuit) -> Violation:
    return Violation(
        f"{name_of(circuit)} and {name_of(other)} are both drawn at space {place}.",
        remedies=(Remedy("Give each circuit a space of its own."),),
        facet=f"space {place}",
        related=(circuit.pointer, other.pointer),
    )


def _beyond(panel: Panel, place: int, circuit: Circuit) -> Violation:
    return Violation(
        f"{name_of(circuit)} is drawn at space {place}; {name_of(panel)} has {panel.spaces}.",
        count(place),
        count(panel.spaces),
        (Remedy("Move it to a free space, or choose a larger panel."),),
        facet=f"space {place}",
        related=(circuit.pointer,),
    )


def _directory(panel: Panel, circuits: list[Circuit]) -> Outcome:
    if not panel.knows("directory"):
        return Undetermined((panel.where("directory"),), facet="directory")
    if not panel.directory:
        words = "Draw up a directory that says what each circuit serves."
        return Violation(
            f"No circuit directory is drawn up for {name_of(panel)}.",
            remedies=(Remedy(words, (state(panel, "directory", value=True),)),),
            facet="directory",
        )
    texts: dict[str, Circuit] = {}
    for circuit in circuits:
        if circuit.knows("directory"):
            text = circuit.directory.strip().casefold()
            if text in texts:
                return _alike(circuit, texts[text])
            texts[text] = circuit
    return Pass(facet="directory")


def _alike(circuit: Circuit, other: Circuit) -> Violation:
    return Violation(
        f"The directory says {circuit.directory.strip()!r} of two circuits, {name_of(other)} and {name_of(circuit)}: "
        "they cannot be told from each other.",
        remedies=(Remedy("Say where each of them goes."),),
        facet="directory",
        related=(other.where("directory"), circuit.where("directory")),
    )
