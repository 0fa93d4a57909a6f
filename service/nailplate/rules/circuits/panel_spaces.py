"""A panel has room for every circuit, none is in a space twice, 240 V are on both legs, and its directory tells what each is for.

Why: two circuits on one breaker, or a breaker that its panel is not made for, end in loose and overheated wires; and whoever turns off the
wrong breaker works on live parts.

Fix: choose a panel with room to spare, give each circuit its own space, and write down what each serves so that it can be told
from every other.

Trap: a two-pole breaker takes two spaces of opposite legs, one above the other, and the breaker of a feeder that starts here takes room
too. Tandem breakers fit where the panel is listed for more poles than it has spaces: its label says how many. The words of 2023 require the
directory's text at plan review.

Does not judge: which spaces of a panel take tandem breakers, and the manufacturer of the breakers.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Panel, Supply
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.rules.circuits.panel_poles import on_two_legs, poles_of
from nailplate.survey.loads import circuits_of, feeders_from, has_one_leg
from nailplate.survey.names import name_of
from nailplate.survey.wiring import opens_together
from nailplate.units import count

_TANDEM = 2
"""Breakers in one space at the most."""


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
    yield from _each_once(panel, circuits, job)
    if not (panel.knows("supply") and has_one_leg(job.plan.supplies[panel.supply])):
        yield from on_two_legs(panel, circuits)
    yield _directory(panel, circuits)


def _enough(panel: Panel, circuits: list[Circuit], feeders: list[Supply]) -> Outcome:
    unknown = [circuit for circuit in circuits if poles_of(circuit) is None]
    taken = sum(poles_of(circuit) or 1 for circuit in circuits) + sum(1 if has_one_leg(each) else 2 for each in feeders)
    if not panel.knows("spaces"):
        return Undetermined((panel.where("spaces"),), facet="spaces")
    most = max(panel.spaces, panel.most_circuits) if panel.knows("most_circuits") else panel.spaces
    if taken > most:
        return _too_many(panel, taken, most, "circuits and feeders" if feeders else "circuits")
    if unknown and taken + len(unknown) > most:
        return Undetermined(tuple(circuit.pointer / "breaker" / "poles" for circuit in unknown), facet="spaces")
    return Pass(count(taken), count(most), "spaces")


def _too_many(panel: Panel, taken: int, most: int, what: str) -> Outcome:
    if not panel.knows("most_circuits") and taken <= _TANDEM * panel.spaces:
        said = f"{name_of(panel)} has {panel.spaces} spaces and its {what} have {taken} poles; how many it is listed for is not said (408.54)."
        return Undetermined((panel.where("most_circuits"),), said, "spaces")
    message = f"{name_of(panel)} is made for {most} poles; its {what} have {taken}."
    remedies = (Remedy("Add a subpanel, or choose a panel that is listed for more circuits."),)
    return Violation(message, count(taken), count(most), remedies, facet="spaces")


def _each_once(panel: Panel, circuits: list[Circuit], job: Job) -> Iterator[Outcome]:
    """Positions that two circuits share and that hold no tandem breaker, or that the panel does not have."""
    taken: dict[int, list[Circuit]] = {}
    for circuit in circuits:
        for place in circuit.position if circuit.knows("position") else ():
            here = [each for each in taken.get(place, []) if not _one_breaker(each, circuit, job)]
            if here:
                yield _doubled(panel, place, circuit, here)
            elif panel.knows("spaces") and place > panel.spaces:
                yield _beyond(panel, place, circuit)
            taken.setdefault(place, []).append(circuit)


def _one_breaker(one: Circuit, other: Circuit, job: Job) -> bool:
    """Both halves of a multiwire circuit on the same two-pole breaker."""
    return one.position == other.position and opens_together(job.survey, (one, other))


def _doubled(panel: Panel, place: int, circuit: Circuit, here: list[Circuit]) -> Outcome:
    """A tandem breaker is two in one space, where the panel is listed for it."""
    facet, related = f"space {place}", (circuit.pointer, here[-1].pointer)
    said = f"{name_of(circuit)} and {name_of(here[-1])} are both shown at space {place}"
    if len(here) < _TANDEM and not panel.knows("most_circuits"):
        return Undetermined((panel.where("most_circuits"),), f"{said}; whether it takes a tandem breaker is not said.", facet)
    if len(here) < _TANDEM and panel.knows("spaces") and panel.most_circuits > panel.spaces:
        return Pass(facet=facet)
    return Violation(f"{said}.", remedies=(Remedy("Give each circuit a space of its own."),), facet=facet, related=related)


def _beyond(panel: Panel, place: int, circuit: Circuit) -> Violation:
    return Violation(
        f"{name_of(circuit)} is shown at space {place}; {name_of(panel)} has {panel.spaces}.",
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
