"""A receptacle in a counter is listed for it, and none hangs cords over the counter's edge where the edition forbids it.

Why: a receptacle that lies face up in a top fills with what is spilt there, and a cord that hangs over the edge is pulled by a
child together with what is hot.

Fix: use an assembly listed for countertops in a top, or set the receptacle on the wall above it, not more than 20 in up.

Trap: an assembly listed for work surfaces alone does not do beside a sink. In 2023 a receptacle in a cabinet's side is not forbidden
by the words, but serves the top no longer; from 2026 none may be within 24 in of a top from below, one in a drawer excepted.

Does not judge: how many receptacles a counter requires: `wall-counter` and `island-peninsula` do. GFCI protection is judged by
`gfci-locations`; how an assembly is sealed into its top is for a look on site.
"""

from nailplate.calc import geometry
from nailplate.plan import Counter, Device, UnknownFact
from nailplate.plan.trade import FOOD_ROOMS
from nailplate.plan.words import DeviceKind, Listing, Mount, Orientation
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.rules.placement.near_counters import NearTop, counter_of, nearest_top, on_cabinet
from nailplate.survey.names import name_of
from nailplate.survey.places import standing
from nailplate.survey.receptacles import has_sink, kept_by_appliance, overhang_at, sinks_in
from nailplate.survey.space import TOUCH
from nailplate.units import inches, reaches, shown, within


@rule(
    id="counter-receptacle-place",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.COUNTER_RECEPTACLES,),
    cites={
        "nec-2017": Cite(
            "210.52(C)(5) and 406.5(E) to (G)",
            seen=(2017,),
            note="https://gardencourte.com/kitchen-outlet-code ; https://captaincode2014.leviton.com/node/41",
        ),
        "nec-2020": Cite(
            "210.52(C)(3) and 406.5(E) to (G)",
            seen=(2020, 2023),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=823 ; "
            "https://captaincode2020.leviton.com/node/250 ; https://www.ecmag.com/magazine/articles/article-detail/"
            "islands-and-peninsulas-cqd-spotlight",
        ),
        "nec-2026": Cite(
            "210.52(C)(3) and (4), 406.5(E) to (G)",
            seen=(2026,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1861",
        ),
    },
    hazards=(Hazard.CORDS, Hazard.WATER, Hazard.SHOCK),
    dwelling_only=True,
)
def counter_receptacle_place(device: Device, job: Job) -> Outcome:
    """406.5(E) to (G) for what is in a top or lies face up, 210.52(C) for what is below one."""
    if device.kind is not DeviceKind.RECEPTACLE or device.knows("part_of"):
        return NotConcerned()
    if device.is_(mount=Mount.COUNTERTOP):
        return _in_top(device, job)
    if _lies_face_up(device) and (under := _under_sink(device, job)) is not None:
        return under
    if device.is_among(mount=(Mount.DRAWER, Mount.FLOOR, Mount.CEILING)):
        return NotConcerned()
    found = _below_top(device, job)
    if isinstance(found, Violation) and not device.knows("mount") and device.is_among(listing=_OF_A_TOP):
        return Undetermined((device.where("mount"),))  # it may be set in the top
    return found


_OF_A_TOP = (Listing.COUNTERTOP, Listing.WORK_SURFACE)


def _lies_face_up(device: Device) -> bool:
    return device.is_(orientation=Orientation.FACE_UP)


# In a top


def _in_top(device: Device, job: Job) -> Outcome:
    if not device.knows("listing"):
        return Undetermined((device.where("listing"),))
    match device.listing:
        case Listing.COUNTERTOP:
            return Pass()
        case Listing.WORK_SURFACE:
            return _work_surface(device, job)
    if not device.knows("orientation"):
        return Undetermined((device.where("orientation"),))
    if not _lies_face_up(device):
        return Pass()
    return Violation(
        message="This receptacle lies face up in a top and is not listed for that.",
        remedies=(_listed_assembly(device),),
    )


def _listed_assembly(device: Device) -> Remedy:
    return Remedy("Use an assembly that is listed for countertops.", (state(device, "listing", "countertop"),))


def _work_surface(device: Device, job: Job) -> Outcome:
    counter = counter_of(job.survey, device)
    if counter is None or not FOOD_ROOMS.intersection(job.plan.rooms[counter.room].uses):
        return Pass()
    if has_sink(job.survey, counter):
        return Violation(
            message=f"This assembly is listed for work surfaces alone, and a sink is set in {name_of(counter)}.",
            remedies=(_listed_assembly(device),),
            related=(counter.pointer,),
        )
    return Judgement(
        message=f"This assembly is listed for work surfaces alone; whether {name_of(counter)}, without a sink, is a work surface "
        "or a countertop is for the authority having jurisdiction.",
        readings=(
            Reading("A top without a sink, where little is spilt, is a work surface.", "pass"),
            Reading(
                "A top where food is prepared is a countertop, and requires an assembly listed for countertops.", "violation"
            ),
        ),
        remedies=(_listed_assembly(device),),
        related=(counter.pointer,),
    )


# Below a sink


def _under_sink(device: Device, job: Job) -> Outcome | None:
    """406.5(G)(2), from 2020: the area below a sink is looked at where the receptacle is lower than the sink."""
    where = standing(job.survey, device)
    if not job.holds("face_up_below_sink_barred") or where.room is None:
        return None
    for sink, ring in sinks_in(job.survey, where.room):
        if geometry.contains(ring, where.point, TOUCH) and not (sink.knows("height") and where.height > sink.height):
            return Violation(
                message="This receptacle lies face up in the area below a sink.",
                remedies=(Remedy("Turn it so that it does not face up.", (state(device, "orientation", "vertical"),)),),
                related=(sink.pointer,),
            )
    return None


# Below a top


def _below_top(device: Device, job: Job) -> Outcome:
    if not job.holds("below_top_barred") and not on_cabinet(device):
        return NotConcerned()
    if job.holds("below_top_barred") and kept_by_appliance(job.survey, device):
        # Behind or beside an appliance, or in the cabinet for one: no cord from the top comes there.
        return NotConcerned()
    near = nearest_top(job.survey, device)
    if near is None or not FOOD_ROOMS.intersection(job.plan.rooms[near.counter.room].uses):
        return NotConcerned()
    if job.holds("below_top_barred"):
        return _from_2026(device, near, job)
    return _in_2023(near, job) if job.holds("below_top_serves_no_more") else _until_2020(near, job)


def _from_2026(device: Device, near: NearTop, job: Job) -> Outcome:
    """Measured straight from the top's edge, as the cord that the rule is about would hang."""
    if reaches(near.straight, job.inches("clear_below_counter")):
        return Pass(inches(near.straight), job.measure("clear_below_counter"))
    if device.is_(in_cabinet=True):
        return _contested(
            near,
            f"This receptacle in the cabinet is {shown(inches(near.below))} below the top of {name_of(near.counter)}.",
            Reading(
                "What is behind a cabinet's door is within 24 in of the top all the same; only a drawer is excepted.",
                "violation",
            ),
            Reading("Inside a cabinet no cord hangs down from the top, which is what the rule is about.", "pass"),
        )
    return Violation(
        message=f"This receptacle is below the top of {name_of(near.counter)} and {shown(inches(near.straight))} from it; within "
        f"{shown(job.measure('clear_below_counter'))} of a top none may be below it.",
        measured=inches(near.straight),
        limit=job.measure("clear_below_counter"),
        remedies=(_lower(job),),
        related=(near.counter.pointer,),
    )


def _in_2023(near: NearTop, job: Job) -> Outcome:
    if reaches(near.straight, job.inches("clear_below_counter")):
        return Pass(inches(near.straight), job.measure("clear_below_counter"))
    return _contested(
        near,
        f"This receptacle on the cabinet is {shown(inches(near.below))} below the top of {name_of(near.counter)} and does not serve it.",
        Reading(
            "Receptacles for a top are on it, in it or above it; one on the cabinet within a cord's reach is not among them.",
            "violation",
        ),
        Reading("One that does not serve the top may be anywhere on the cabinet.", "pass"),
    )


def _until_2020(near: NearTop, job: Job) -> Outcome:
    if not within(near.below, job.inches("island_receptacle_below_top")):
        return Pass(inches(near.below), job.measure("island_receptacle_below_top"))
    over = overhang_at(near.counter, near.where.point) if near.counter.knows("outline") else _stated_overhang(near.counter)
    if within(over, job.inches("overhang_over_receptacle")):
        return Pass(inches(over), job.measure("overhang_over_receptacle"))
    return _contested(
        near,
        f"The top of {name_of(near.counter)} reaches out {shown(inches(over))} over this receptacle; over one that serves the top it "
        f"may reach {shown(job.measure('overhang_over_receptacle'))} at most.",
        Reading("A receptacle this near to the top serves it, and is not allowed under so wide an overhang.", "violation"),
        Reading("It does not count for the top, and as one more it may be there.", "pass"),
    )


def _stated_overhang(counter: Counter) -> float:
    if not counter.knows("overhang"):
        raise UnknownFact(counter.where("overhang"))
    return counter.overhang


def _contested(near: NearTop, message: str, one: Reading, other: Reading) -> Judgement:
    return Judgement(
        message=f"{message} Ask the authority having jurisdiction.",
        readings=(one, other),
        measured=inches(near.below),
        related=(near.counter.pointer,),
    )


def _lower(job: Job) -> Remedy:
    return Remedy(
        f"Set it {shown(job.measure('clear_below_counter'))} or more from the top, or on the wall above it; in a drawer it may stay."
    )
