"""A white conductor that is no neutral is marked as ungrounded wherever it can be seen.

Why: whoever opens the box takes a white wire for the neutral, and touches a hot.

Fix: wrap the white with colored tape, or paint it, all around and in a color other than white, gray or green, at both ends
and wherever it can be reached; or pull a cable with one more conductor and keep the white for the neutral.

Trap: in a switch loop the marked white is the supply to the switch; the conductor that returns to the light is never the white.
A white that is the neutral stays unmarked.

Does not judge: conductors in a raceway, which are pulled in their own colors, the colors of other conductors, and the mark as
made, which is for a look on site. A neutral at the switch is judged by `neutral-at-switch`, a neutral that is switched by
`neutral-unswitched`.
"""

from nailplate.calc.switching import Conductor, Role
from nailplate.plan import Cable
from nailplate.plan.words import CableType
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.wiring import carried, is_power_cable, roles_in, wiring_of

_WORDS = {
    Role.HOT: "the hot",
    Role.SECOND_HOT: "one of the two hots",
    Role.TRAVELER: "a traveler",
    Role.SWITCHED_HOT: "a switched hot",
    Role.SIGNAL: "the signal between alarms",
}


@rule(
    id="white-reidentified",
    over=Cable,
    severity=Severity.CODE,
    subjects=(Subject.SWITCHING,),
    cites={"nec-2017": Cite("200.7(C)", seen=(2023,), note="a public copy of the 2023 code text")},
    hazards=(Hazard.SHOCK,),
)
def white_reidentified(cable: Cable, job: Job) -> Outcome:
    """By what the white of a cable has to carry. Conductors of a raceway are pulled in their own colors."""
    if not is_power_cable(cable) or cable.is_(type=CableType.RACEWAY):
        return NotConcerned()
    roles = roles_in(job.survey, cable)
    if not roles:
        return _not_worked_out(cable, job)
    whites = [each for planned in roles for each in planned.conductors if each.color == "white"]
    hot = next((each for each in whites if each.reidentified), None)
    if hot is not None:
        return _white_as_hot(cable, hot)
    if cable.is_(reidentified_white=True) and any(each.net.role is Role.NEUTRAL for each in whites):
        return _neutral_marked(cable)
    return NotConcerned()


def _white_as_hot(cable: Cable, white: Conductor) -> Outcome:
    if cable.reidentified_white:
        return Pass()
    if not cable.knows("type"):
        return Undetermined((cable.where("type"),))  # in a raceway it would be pulled in a color of its own
    words = "Mark the white all around, at both ends, in a color other than white, gray or green."
    return Violation(
        f"The white of cable {name_of(cable)} is {_WORDS[white.net.role]} and is not marked as ungrounded.",
        remedies=(Remedy(words, (state(cable, "reidentified_white", value=True),)),),
    )


def _neutral_marked(cable: Cable) -> Violation:
    return Violation(
        f"The white of cable {name_of(cable)} is marked as ungrounded, but is the neutral that the cable has to carry.",
        remedies=(Remedy("Leave the white unmarked.", (state(cable, "reidentified_white", value=False),)),),
    )


def _not_worked_out(cable: Cable, job: Job) -> Outcome:
    """What is missing to know what the cable carries; where other rules say what forbids a wiring, nothing."""
    circuits = carried(job.survey, cable).known
    if not circuits:
        return Undetermined((cable.where("circuit"),))
    needs = dict.fromkeys(need for each in circuits for need in wiring_of(job.survey, job.plan.circuits[each]).needs)
    return Undetermined(tuple(needs)) if needs else NotConcerned()
