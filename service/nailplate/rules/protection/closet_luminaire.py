"""A luminaire in a clothes closet is of a permitted kind and keeps clear of the storage space.

Why: clothes and boxes pushed against a hot lamp catch fire behind a closed door.

Fix: use an LED luminaire with its light source completely enclosed, above the door or on the ceiling out of the storage space's
reach, recessed where room is short, or one that is identified for use within the storage space.

Trap: clearance counts to the storage space, not to the shelf's edge, and in three dimensions: hanging clothes take 24 in along the
back and the sides up to the rod, a shelf takes 12 in or its depth to the ceiling. An LED lamp in a lampholder is no LED luminaire.
A pantry is no clothes closet.

Does not judge: which lamp is put in later, and what is stacked beyond the rods and shelves drawn. Panels in closets are judged
by `panel-place`; whether a room used for other things too is a clothes closet is left to the authority having jurisdiction.
"""

import math

from nailplate.plan import Device, Room, RoomPlace
from nailplate.plan.words import DeviceKind, LightSource, Listing, LuminaireMount, Use
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.protection.closets import Closest, Extent, closest, is_closet, rods, storage_space
from nailplate.survey import Standing, Survey, standing
from nailplate.survey.names import name_of
from nailplate.survey.places import beside_wall, point_on_wall
from nailplate.units import Inches, inches, reaches, shown

_WIDEST = 24.0  # inches from the middle to the end of the longest luminaire in a closet (common practice)
_BARRED = {
    LuminaireMount.PENDANT: "a pendant",
    LuminaireMount.LAMPHOLDER: "a bare lampholder",
    LuminaireMount.TRACK: "lighting track",
}


@rule(
    id="closet-luminaire",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.CLOSETS_AND_TRACK,),
    cites={
        "nec-2017": Cite(
            "410.16(A), 410.16(B), 410.16(C)",
            seen=(2017, 2020),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=3553.0 "
            "(2017 text in a state's amendment); https://mikeholt.com/newsletters.php?action=display&letterID=2397 (2020); "
            "https://forums.mikeholt.com/threads/2552096 (depths)",
        ),
        "nec-2023": Cite("410.16(A), 410.16(B), 410.16(C), 410.16(D)", seen=(2023,), note="a public copy of the 2023 text"),
    },
    hazards=(Hazard.FIRE, Hazard.OVERHEATING),
    changes={
        "nec-2023": "The definition of the storage space moves from 410.2 to Article 100; clearances stand in (A), and kinds and places became (B) "
        "to (D).",
    },
)
def closet_luminaire(device: Device, job: Job) -> Outcome:
    """Judges one luminaire or track."""
    if device.kind not in (DeviceKind.LUMINAIRE, DeviceKind.TRACK) or not job.survey.once(_has_closet):
        return NotConcerned()
    where = standing(job.survey, device)
    if where.room is None or not is_closet(where.room):
        return NotConcerned()
    found = _judged(device, job, where, where.room)
    if isinstance(found, Violation) and not device.knows("listing") and _may_be_listed(device):
        said = f"{found.message} One that is identified for use within the storage space may be there."
        return Undetermined((device.where("listing"),), said)
    is_clothes_closet = set(where.room.uses) == {Use.CLOSET} or rods(job.survey, where.room)
    return found if is_clothes_closet or not isinstance(found, Violation) else _perhaps_closet(found, where.room)


def _has_closet(survey: Survey) -> bool:
    return any(is_closet(room) for room in survey.plan.rooms.values())


def _perhaps_closet(found: Violation, room: Room) -> Judgement:
    return Judgement(
        f"{found.message} Whether {name_of(room)}, which is used for other things as well, is a clothes closet is contested.",
        readings=(
            Reading("Clothes are stored in it; it is a clothes closet.", "violation"),
            Reading("It is not mainly for clothes, and the requirement does not speak of it.", "pass"),
        ),
        measured=found.measured,
        limit=found.limit,
        remedies=found.remedies,
        facet=found.facet,
    )


def _judged(device: Device, job: Job, where: Standing, room: Room) -> Outcome:
    if device.is_(listing=Listing.STORAGE_SPACE) and _may_be_listed(device):
        return Pass()
    barred = _barred(device)
    if barred:
        return _wrong_kind(device, room, barred)
    limit = _clearance(device, job)
    nearest = closest(storage_space(job.survey, room), _extent(device, where))
    if not reaches(nearest.distance, limit):
        return _too_close(device, room, nearest, limit)
    if not device.knows("width") and not reaches(nearest.distance - _WIDEST, limit):
        return Undetermined(
            (device.where("width"),), f"How wide luminaire {name_of(device)} is decides how near its edge comes."
        )
    return Pass(inches(nearest.distance), inches(limit)) if math.isfinite(nearest.distance) else Pass()


def _may_be_listed(device: Device) -> bool:
    """Those identified for use within the storage space are surface-mounted fluorescent or LED luminaires."""
    surface = device.kind is DeviceKind.LUMINAIRE and device.luminaire_mount is LuminaireMount.SURFACE
    return surface and device.source is not LightSource.INCANDESCENT


def _barred(device: Device) -> str:
    """What makes it a kind that no closet may have; empty where nothing does."""
    if device.kind is DeviceKind.TRACK:
        return _BARRED[LuminaireMount.TRACK]
    if device.luminaire_mount in _BARRED:
        return _BARRED[device.luminaire_mount]
    if device.source is not LightSource.FLUORESCENT and not device.enclosed:
        return "a luminaire whose lamp is open or only partly enclosed"
    return ""


def _clearance(device: Device, job: Job) -> Inches:
    if device.source is LightSource.FLUORESCENT:
        return job.inches("fluorescent_from_storage_space")
    recessed = device.luminaire_mount is LuminaireMount.RECESSED
    return job.inches("recessed_from_storage_space" if recessed else "surface_from_storage_space")


def _extent(device: Device, where: Standing) -> Extent:
    """The room that the luminaire takes; its width is left out where the plan does not say it."""
    radius = device.width / 2 if device.knows("width") else 0.0
    out = 0.0 if device.luminaire_mount is LuminaireMount.RECESSED else device.projection
    if isinstance(where.place, RoomPlace) or where.wall is None or where.side is None:
        return Extent((where.point,), radius, where.height - out, where.height)
    along = [where.place.along + by for by in (-radius, radius)]
    back, front = (
        [beside_wall(where.wall, point_on_wall(where.wall, at), where.side, off) for at in along] for off in (0.0, out)
    )
    return Extent((*back, *reversed(front)), 0.0, where.height - radius, where.height + radius)


def _wrong_kind(device: Device, room: Room, barred: str) -> Violation:
    return Violation(
        f"Luminaire {name_of(device)} in the clothes closet {name_of(room)} is {barred}, a kind that is not permitted there.",
        remedies=(Remedy("Use an LED luminaire with its light source completely enclosed, or a fluorescent one."),),
    )


def _too_close(device: Device, room: Room, nearest: Closest, limit: Inches) -> Violation:
    stands = f"{shown(inches(nearest.distance))} from" if nearest.distance else "in"
    return Violation(
        f"Luminaire {name_of(device)} in the clothes closet {name_of(room)} is {stands} {nearest.block.what}; "
        f"{shown(inches(limit))} is the least clearance.",
        inches(nearest.distance),
        inches(limit),
        (
            Remedy(
                "Move it above the door or toward the middle, recess it (6 in is enough then), or use one that is identified for use "
                "within the storage space."
            ),
        ),
    )
