"""A neutral comes to the box of every switch for lighting.

Why: dimmers with electronics, sensors and timers need a neutral; where there is none, they were made to send their current into
the grounding conductor instead.

Fix: feed the lighting by way of its switches, or run a cable to the switch with one conductor more, so that its white
stays the neutral.

Trap: with the feed at the light, a two-conductor switch loop uses its white as a hot. In a box with several switches each lighting
circuit needs its own neutral there.

Reliefs count only where the plan states what they rest on: a raceway with room for a neutral, a box that a cable can be added to
without removing finish, a switch with an enclosure of its own, automatic control, and of several switches one with a neutral where
the whole floor is seen from them.

Does not judge: where the cables drawn do not bring the circuit to a switch or to its lights, ``circuit-fed`` tells of it, and
nothing is said here.
"""

from nailplate.plan import Box, Circuit
from nailplate.plan.words import CableType, Purpose
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import (
    Judgement,
    NotConcerned,
    Operation,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Undetermined,
    Violation,
    state,
)
from nailplate.rules.switching.served_rooms import Served, served_rooms
from nailplate.rules.switching.switch_neutrals import (
    Comes,
    LightSwitch,
    cables_into,
    cables_without,
    circuit_of_lighting,
    light_switches,
    neutral_at,
)
from nailplate.survey.lights import would_do
from nailplate.survey.names import name_of
from nailplate.units import count

NOT_GENERAL = frozenset({Purpose.INDIVIDUAL, Purpose.ALARM})
WORST_FIRST = (Violation, Judgement, Undetermined, Pass, NotConcerned)


@rule(
    id="neutral-at-switch",
    over=Box,
    severity=Severity.CODE,
    subjects=(Subject.SWITCHING,),
    cites={
        "nec-2017": Cite(
            "404.2(C)",
            seen=(2017, 2020, 2023),
            note="http://www.ecmweb.com/national-electrical-code/switch-and-receptacle-installation-basics (2017); public copies of "
            "the 2020 and 2023 code text",
        )
    },
    changes={
        "nec-2020": "Habitable rooms and occupiable spaces are those of the building code in force, and a switch that needs a "
        "neutral has to be connected to it.",
    },
    hazards=(Hazard.SHOCK,),
)
def neutral_at_switch(box: Box, job: Job) -> Outcome:
    """Judges one box by all the switches for lighting in it; the worst answer is the box's."""
    outcomes = [_judged(each, box, job) for each in light_switches(job.survey, box)]
    return min(outcomes, key=lambda outcome: WORST_FIRST.index(type(outcome)), default=NotConcerned())


def _judged(switch: LightSwitch, box: Box, job: Job) -> Outcome:
    circuit, arrival = circuit_of_lighting(job.survey, switch.control), neutral_at(job.survey, switch)
    if arrival.comes is Comes.YES:
        return Pass()
    if arrival.comes is Comes.UNJUDGED or (circuit is not None and not _is_general(circuit)):
        return NotConcerned()
    if circuit is None or arrival.comes is Comes.OPEN:
        return Undetermined(arrival.needs)
    served = served_rooms(job.survey, circuit)
    if not (served.lived_in or served.worked_in or served.unknown):
        return NotConcerned()
    if _is_relieved(switch, box, circuit, job):
        return Pass()
    if box.is_(open_framing=True) and job.holds("neutral_relief_in_open_framing"):
        return Pass()
    return _without_neutral(switch, box, served, job)


def _is_general(circuit: Circuit) -> bool:
    return not (circuit.is_(neutral=False) or circuit.is_among(purpose=NOT_GENERAL))


# Reliefs


def _is_relieved(switch: LightSwitch, box: Box, circuit: Circuit, job: Job) -> bool:
    own, automatic = switch.device.is_(integral_enclosure=True), switch.control.is_(automatic=True)
    roomy = any(cable.is_(type=CableType.RACEWAY, room_for_neutral=True) for cable in cables_into(job.survey, box, circuit))
    return own or automatic or roomy or (_comes_elsewhere(switch, job) and switch.control.is_(whole_floor_visible=True))


def _comes_elsewhere(switch: LightSwitch, job: Job) -> bool:
    """Whether a neutral comes to another switch of the same control."""
    others = (job.plan.devices[each] for each in switch.control.switches if each != switch.device.id)
    return any(
        neutral_at(job.survey, LightSwitch(device, switch.control)).comes is Comes.YES
        for device in others
        if device.knows("box")
    )


# Without a neutral


def _without_neutral(switch: LightSwitch, box: Box, served: Served, job: Job) -> Outcome:
    unseen = () if switch.control.knows("whole_floor_visible") else (switch.control.where("whole_floor_visible"),)
    if _comes_elsewhere(switch, job) and unseen:
        return Undetermined(unseen)
    if not (served.lived_in or served.worked_in):
        return Undetermined(served.unknown)
    message = (
        f"No neutral comes to {name_of(box)}, where {name_of(switch.device)} switches lighting; its circuit serves "
        f"{name_of((*served.lived_in, *served.worked_in)[0])}."
    )
    remedies = tuple(_remedies(switch, job))
    if box.is_(open_framing=True):
        return Judgement(message, _FRAMING, remedies=remedies)
    if not served.lived_in:
        return Undetermined(served.unknown) if served.unknown else Judgement(message, _WORKED_IN, remedies=remedies)
    short = cables_without(job.survey, switch)[-1]
    has = None if short.has is None else count(short.has)
    return Violation(message, has, count(len(short.carried) + 1), remedies, related=(switch.device.pointer,))


_FRAMING = (
    Reading("A box that a cable can be added to without removing finish is still relieved.", "pass"),
    Reading("That relief is gone from this edition.", "violation"),
)
_WORKED_IN = (
    Reading("A laundry, utility room, garage or basement is occupiable.", "violation"),
    Reading("It is neither habitable nor occupiable by the building code.", "pass"),
)


def _remedies(switch: LightSwitch, job: Job) -> list[Remedy]:
    """A larger cable for each that brings no neutral, its white left to the neutral; words where none is large enough."""
    patch: list[Operation] = []
    names: list[str] = []
    for planned in cables_without(job.survey, switch):
        cable, needs = job.plan.cables[planned.cable], len(planned.carried) + 1
        instead = would_do(cable, needs)
        if not instead:
            return [Remedy("Feed the lighting by way of its switches.")]
        names.append(f"a {instead} for {name_of(cable)}")
        if planned.has is None or planned.has < needs:
            patch.append(state(cable, "insulated", needs))
        if cable.is_(reidentified_white=True):
            patch.append(state(cable, "reidentified_white", value=False))
    return [Remedy(f"Pull {' and '.join(names)}, and keep the white for the neutral.", tuple(patch))]
