"""Receptacles in a dwelling are tamper-resistant.

Why: children push keys, hairpins and wires into receptacles; shutters keep them from the contacts.

Fix: use a receptacle that is listed tamper-resistant, marked TR.

Trap: outdoor and garage receptacles are meant too, and so are 250 V ones of 15 A and 20 A. A receptacle behind furniture is not out of
reach, and a duplex behind one refrigerator leaves half of it to a child.

Does not judge: receptacles over 20 A, locking ones and those built into equipment; replacements in existing houses; and other
places that the code names in buildings that are no dwelling, except rooms that are slept in. Exceptions count only where the
plan states what they rest on: the height, or the appliance in whose space it stands.
"""

from nailplate.plan import Device, Room, UnknownFact
from nailplate.plan.words import DeviceKind, Regime, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.rules.protection.sleeping_rooms import if_let_to_guests, is_other_building, is_slept_in
from nailplate.survey import place_of, standing
from nailplate.survey.names import name_of
from nailplate.survey.protection import appliances_served, obstacle, receptacle_amperes
from nailplate.survey.space import stays
from nailplate.units import inches, shown, within

_NOT_NAMED = frozenset({Use.ATTIC, Use.CRAWL_SPACE})


@rule(
    id="tamper-resistant",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.RECEPTACLE_TYPES,),
    cites={
        "nec-2017": Cite(
            "406.12",
            seen=(2017, 2023),
            note="http://www.p3-inc.com/blog?view=entry&id=109 (2017); "
            "https://www.ecmag.com/magazine/articles/article-detail/"
            "more-revisions-and-additions-to-chapter-4-accepting-(nec)-change-part-11 (2023)",
        )
    },
    hazards=(Hazard.CHILD_SHOCK, Hazard.SHOCK),
    dwelling_only=True,
    also_for=(Regime.MANUFACTURED_HOME, Regime.NOT_A_DWELLING),
    changes={
        "nec-2017": "250 V receptacles of 15 A and 20 A came in, and areas of manufactured homes by 550.13; replacing a two-wire "
        "receptacle moved to 406.4(D)(5).",
        "nec-2023": "Garages, accessory buildings and mobile and manufactured homes are named; an appliance's dedicated space is told by "
        "a single receptacle for each, or a duplex for two.",
    },
)
def tamper_resistant(device: Device, job: Job) -> Outcome:
    """Judges one receptacle; of what is no dwelling unit, those of rooms that are slept in."""
    if not is_other_building(job):
        return _judged(device, job)
    if device.kind is not DeviceKind.RECEPTACLE or not any(is_slept_in(room) for room in job.plan.rooms.values()):
        return NotConcerned()
    slept_in = is_slept_in(standing(job.survey, device).room)
    return if_let_to_guests(_judged(device, job), "406.12", "A tamper-resistant type") if slept_in else NotConcerned()


def _judged(device: Device, job: Job) -> Outcome:
    if device.kind is not DeviceKind.RECEPTACLE or device.is_(locking=True) or device.knows("part_of"):
        return NotConcerned()
    if device.is_(tamper_resistant=True):
        return Pass()
    unknown = [] if device.knows("tamper_resistant") else [device.where("tamper_resistant")]
    for excepted in (_is_of_another_kind, _is_out_of_reach, _stands_in_appliance_space):
        try:
            if excepted(device, job):
                return NotConcerned()
        except UnknownFact as missing:
            unknown.append(missing.pointer)
    return Undetermined(tuple(unknown)) if unknown else _without_shutters(device, job)


def _is_of_another_kind(device: Device, job: Job) -> bool:
    """Meant are those of 15 A and 20 A, 125 V and 250 V; no receptacle of a dwelling has more volts."""
    return not within(receptacle_amperes(job.survey, device), job.amperes("receptacle_types_up_to"))


def _is_out_of_reach(device: Device, job: Job) -> bool:
    return not within(place_of(job.survey, device).height, job.inches("shutters_needed_up_to"))


def _stands_in_appliance_space(device: Device, job: Job) -> bool:
    """A single receptacle for one appliance, or a duplex for two, in the space of what is not easily moved.

    From 2023 only where it is not readily accessible, which a plan states or shows by what stands in front of it.
    """
    if not device.knows("dedicated_space") or not stays(job.plan.appliances[device.dedicated_space]):
        return False
    served = [each for each in appliances_served(job.survey, device) if stays(each)]
    if device.contacts > len(served):
        return False
    return not job.holds("appliance_space_out_of_reach") or obstacle(job.survey, device) is not None


def _room(device: Device, job: Job) -> Room | None:
    """The room it is in. Where that cannot be told, every room but an attic or crawl space gives the same answer."""
    try:
        return standing(job.survey, device).room
    except (
        UnknownFact
    ):  # unknown: its height is known here, so it is in a room; of which one hangs only where the readings part
        return None


def _without_shutters(device: Device, job: Job) -> Outcome:
    height, room = inches(place_of(job.survey, device).height), _room(device, job)
    message = (
        f"Receptacle {name_of(device)} is not tamper-resistant and stands {shown(height)} above the floor; in a dwelling only "
        f"those over {shown(job.measure('shutters_needed_up_to'))}, in the space of an appliance that is not easily moved, or built into "
        "equipment may be so."
    )
    remedies = (Remedy("Use a receptacle that is listed tamper-resistant.", (state(device, "tamper_resistant", value=True),)),)
    if room and set(room.uses) <= _NOT_NAMED:
        readings = (
            Reading("Every receptacle of a dwelling unit is meant.", "violation"),
            Reading(f"210.52 does not name a place such as {name_of(room)}, and only its areas are meant.", "pass"),
        )
        return Judgement(message, readings, height, job.measure("shutters_needed_up_to"), remedies)
    return Violation(message, height, job.measure("shutters_needed_up_to"), remedies)
