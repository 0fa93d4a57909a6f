"""A disposer, built-in dishwasher, compactor or range hood on a cord has a cord of the right length and a receptacle in the right place.

Why: a cord that is too short is strained, one too long is pinched and chafed behind the cabinet; and a plug that cannot be reached is no
means to disconnect.

Fix: use the manufacturer's cord kit of a permitted length; put a dishwasher's receptacle in the space beside it, and give a range hood
on a cord a circuit of its own.

Trap: the dishwasher's receptacle goes under the sink or in another cabinet beside it, not behind the machine. A hood that is wired in
needs no circuit of its own by this rule; one on a cord does, and from 2020 so does a microwave oven over the range.

Does not judge: Whether the receptacle is one cabinet away or several is not judged, nor its guard against damage.
"""

from collections.abc import Iterator

from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, Connection
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, at_place
from nailplate.survey.names import kind_words, name_of, names_of, sentence
from nailplate.survey.protection import connection_of, is_behind, others_on_circuit, plugged_into
from nailplate.units import Inches, inches, reaches, shown, within

_BUILT_IN = frozenset({ApplianceKind.DISHWASHER, ApplianceKind.COMPACTOR, ApplianceKind.MICROWAVE})
_HOODS = frozenset({ApplianceKind.RANGE_HOOD, ApplianceKind.MICROWAVE})


@rule(
    id="cord-appliance",
    over=Appliance,
    severity=Severity.CODE,
    subjects=(Subject.DISCONNECTS,),
    cites={
        "nec-2017": Cite(
            "422.16(B)",
            seen=(2017, 2020),
            note="http://www.ecmag.com/section/codes-standards/equipment-general-use-significant-changes-2017-nec-part-6 (2017); "
            "https://captaincode2020.leviton.com/node/263 (2020); https://forum.nachi.org/t/inspection-flashcard-3/51528 (disposers)",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE),
    changes={
        "nec-2017": "A built-in dishwasher's cord may be 3 ft to 6 1/2 ft long, and its receptacle is in the space beside it.",
        "nec-2020": "Where a cord passes a cabinet's wall it needs a bushing.",
    },
)
def cord_appliance(appliance: Appliance, job: Job) -> Outcome | Iterator[Outcome]:
    """Judges one appliance."""
    if appliance.kind not in job.edition.appliance_cords.kinds or connection_of(job.survey, appliance) is not Connection.CORD:
        return NotConcerned()
    if appliance.kind in _BUILT_IN and not appliance.fastened:
        return NotConcerned()
    if appliance.kind is ApplianceKind.MICROWAVE and not appliance.with_hood:
        return NotConcerned()
    return _judged(appliance, job)


def _judged(appliance: Appliance, job: Job) -> Iterator[Outcome]:
    looks = [("cord", _cord)]
    if appliance.kind is ApplianceKind.DISHWASHER:
        looks.append(("place", _place))
    if appliance.kind in _HOODS:
        looks.append(("circuit", _circuit))
    for facet, look in looks:
        yield from at_place(facet, None, look, appliance, job)


def _called(appliance: Appliance) -> str:
    return f"the {kind_words(appliance.kind)} {name_of(appliance)}"


# The cord


def _cord(appliance: Appliance, job: Job) -> Outcome:
    length, limits = appliance.cord_length, job.edition.appliance_cords.kinds[appliance.kind]
    if not reaches(length, limits.least):
        return _wrong_cord(appliance, job, limits.least, "at least")
    if not within(length, limits.most):
        return _wrong_cord(appliance, job, limits.most, "at most")
    return Pass(inches(length), inches(limits.most))


def _wrong_cord(appliance: Appliance, job: Job, limit: Inches, bound: str) -> Outcome:
    message = f"The cord of {_called(appliance)} is {shown(inches(appliance.cord_length))} long; {bound} {shown(inches(limit))} is permitted."
    limits = job.edition.appliance_cords.kinds[appliance.kind]
    remedies = (Remedy(f"Use a cord of {shown(inches(limits.least))} to {shown(inches(limits.most))}."),)
    if _is_disputed(appliance, job):
        return _disputed(message, remedies, appliance.cord_length, limit)
    return Violation(message, inches(appliance.cord_length), inches(limit), remedies)


# The receptacle's place


def _place(appliance: Appliance, job: Job) -> Outcome:
    receptacle = plugged_into(job.survey, appliance)
    if not is_behind(job.survey, receptacle, appliance):
        return Pass()
    return Violation(
        f"Receptacle {name_of(receptacle)} of {_called(appliance)} is behind the machine; it belongs in the space beside it.",
        remedies=(Remedy("Put the receptacle in the cabinet beside the dishwasher, such as under the sink."),),
        related=(receptacle.pointer,),
    )


# The circuit


def _circuit(appliance: Appliance, job: Job) -> Outcome:
    others = others_on_circuit(job.survey, appliance)
    if not others:
        return Pass()
    message = f"{sentence(_called(appliance))} is on a cord and shares its circuit with {names_of(others, _NAMED)}."
    remedies = (Remedy("Give its receptacle a circuit of its own, or wire the hood in without a cord."),)
    if _is_disputed(appliance, job):
        return _disputed(message, remedies)
    return Violation(message, remedies=remedies, related=tuple(each.pointer for each in others[:_NAMED]))


_NAMED = 3


def _is_disputed(appliance: Appliance, job: Job) -> bool:
    return appliance.kind is ApplianceKind.MICROWAVE and not job.holds("microwave_hoods_named")


def _disputed(
    message: str, remedies: tuple[Remedy, ...], measured: float | None = None, limit: float | None = None
) -> Judgement:
    return Judgement(
        message,
        (
            Reading("A microwave oven that is a range hood too is a range hood.", "violation"),
            Reading("Only range hoods are named before the 2020 edition.", "pass"),
        ),
        None if measured is None else inches(measured),
        None if limit is None else inches(limit),
        remedies,
    )
