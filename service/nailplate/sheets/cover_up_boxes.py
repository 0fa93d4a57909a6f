"""What the sheet before cover-up tells of a box, and of a device with its own wiring space: measure, look, tug, cap and label."""

from collections.abc import Iterator

from nailplate.calc.switching import CableEnd, Role
from nailplate.plan import Box, Cable, Device, RoomPlace
from nailplate.plan.trade import ON_COILS
from nailplate.plan.words import BoxFastening, DeviceKind, Placing
from nailplate.sheets.called import Name, listed, named, said, text
from nailplate.sheets.carried import joints_by_box
from nailplate.sheets.drawing.measures import BY_TAPE, dimension, unit_of
from nailplate.sheets.ends_told import circuits_told, part_at_end
from nailplate.sheets.line_and_load import is_on_load
from nailplate.sheets.places_told import height_of, outdoors_at, place_told
from nailplate.sheets.site_items import many
from nailplate.sheets.tables import Cell
from nailplate.survey.index import Survey

Item = tuple[Cell, str, Cell]
"""Where, what kind of act, and what to do."""


def _placed(survey: Survey, part: Box | Device) -> Iterator[Cell]:
    """What is in a wall by its height, free in a room by its place too; whether a box is beside a stud where the stud decides."""
    high, outdoors = height_of(survey, part), outdoors_at(survey, part)
    if part.knows("at") and isinstance(part.at, RoomPlace):
        place = place_told(survey, part)
        up = (
            "" if high is None or high == _ceiling_over(survey, part.at) else f", {_up(survey, high)} the floor or ground there"
        )
        yield Cell(f"Center {place.value}{up}.", part.where("at"), place.whole and f"Center {place.whole}{up}.")
    elif high is not None:
        told = f"Center {_up(survey, high)}"
        if outdoors is not None:
            yield listed([outdoors], f"{told} the floor or ground of ", ".", part.where("at"))
        else:
            yield text(f"{told} the finished floor.", part.where("at"))
        if isinstance(part, Box) and part.is_(placing=Placing.NEAREST_STUD):
            spaced = any(each.kind is DeviceKind.RECEPTACLE for each in survey.devices_in_box.get(part.id, ()))
            again = "; the spacing of receptacles measured again" if spaced else ""
            yield text(f"At the stud nearest to its place{again}.", part.where("at"))


def _up(survey: Survey, high: float) -> str:
    return f"{dimension(high, unit_of(survey.plan), BY_TAPE)} above"


def _ceiling_over(survey: Survey, place: RoomPlace) -> float | None:
    """The height of a room's flat ceiling: what hangs from it needs no height told."""
    room = survey.plan.rooms[place.room]
    for part in (room, survey.plan.levels[room.level]):
        if part.knows("ceiling"):
            return part.ceiling.height if part.ceiling.knows("height") else None
    return None


def box_items(survey: Survey, box: Box) -> Iterator[Item]:
    """What to do at a box, in the order it is done."""
    where = named(box)
    cables = list(dict.fromkeys(survey.cables_at_box.get(box.id, [])))
    yield from ((where, "measure", told) for told in _placed(survey, box))
    if box.knows("front_offset"):
        yield where, "measure", text(f"Front {_offset(box, survey)}.", box.where("front_offset"))
    if cables:
        grounds = "grounds joined" if len(cables) > 1 else "its ground free for the device"
        yield where, "look", text(f"{many(len(cables), 'cable')} in it, sheath inside, {grounds}.", box.pointer)
        yield (
            where,
            "tug",
            text(
                f"Tug box and {many(len(cables), 'cable')}: box fast to {_framing(box)}, cables held by clamp or staple.",
                box.pointer,
            ),
        )
    yield from _caps(survey, box, where)
    yield from _labels(survey, box, cables)
    yield from _load_side(survey, box, where)
    for cable in survey.cables_through_box.get(box.id, []):
        yield where, "look", _passing(survey, box, cable)
    if not survey.devices_in_box.get(box.id):
        yield where, "cap", text("No device goes here: blank cover, and it stays in reach (314.29).", box.pointer)
    if box.is_(fan_rated=True):
        yield where, "look", text(f"It is marked for fans, and fast to {_framing(box)}.", box.pointer)


def device_items(survey: Survey, device: Device) -> Iterator[Item]:
    """What to do at a device that has its own wiring space and gets cable from a coil: a fan, a heater, a disconnect."""
    where, here = named(device), survey.cables_at_device.get(device.id, [])
    cables = [each for each in dict.fromkeys(here) if each.knows("type") and each.type in ON_COILS]
    if not cables:
        return
    yield from ((where, "measure", told) for told in _placed(survey, device))
    words = f"{many(len(cables), 'cable')} at its wiring space, fastened near it, long enough to reach its terminals."
    yield where, "look", text(words, device.pointer)
    yield from _labels(survey, device, cables)


def _labels(survey: Survey, part: Box | Device, cables: list[Cable]) -> Iterator[Item]:
    if any(circuits_told(survey, cable) for cable in cables):
        told = said(lambda name: f"Each cable: {'; '.join(_label(survey, part, each, name) for each in cables)}.", part.pointer)
        yield named(part), "label", told


def _passing(survey: Survey, box: Box, cable: Cable) -> Cell:
    """What passes a box unbroken, by what it carries and its two ends, and the loop that its fill counts."""
    tag, ends = circuits_told(survey, cable) or "?", [part_at_end(survey, end) for end in cable.ends]
    loops = [each.loop for each in cable.passes if each.box == box.id and each.knows("loop")]
    left = f", a loop of {dimension(max(loops), unit_of(survey.plan), BY_TAPE)} left in the box" if any(loops) else ""
    return said(lambda name: f"{tag} from {' to '.join(name(end) for end in ends)} passes unbroken{left}.", box.pointer)


def _framing(box: Box) -> str:
    return "its brace, the brace to the framing" if box.is_(fastened=BoxFastening.BRACE) else "its framing"


def _offset(box: Box, survey: Survey) -> str:
    off = box.front_offset
    told = dimension(abs(off), unit_of(survey.plan), BY_TAPE)
    return (
        f"edge {told} {'out from' if off >= 0 else 'behind'} the face of the framing"
        if off
        else "edge flush with the face of the framing"
    )


def _label(survey: Survey, part: Box | Device, cable: Cable, name: Name) -> str:
    ends = [part_at_end(survey, end) for end in cable.ends]
    other = next((end for end in ends if end is not part), ends[1])
    return f"{circuits_told(survey, cable) or '?'} to {name(other)}"


def _caps(survey: Survey, box: Box, where: Cell) -> Iterator[Item]:
    for _, joint, _ in joints_by_box(survey).get(str(box.pointer), []):
        ends = [end for end in joint.ends if isinstance(end, CableEnd)]
        if (len(joint.ends) == 1 and ends) or joint.net.role is Role.SPARE:
            cables = [survey.plan.cables[end.cable] for end in ends]
            yield where, "cap", listed(cables, f"{', '.join(end.color for end in ends)} of ", ".", box.pointer)


def _load_side(survey: Survey, box: Box, where: Cell) -> Iterator[Item]:
    """Which cables go on LOAD: once the wall is closed they look alike."""
    joints = [each.joint for each in joints_by_box(survey).get(str(box.pointer), []) if is_on_load(each.joint)]
    ids = dict.fromkeys(end.cable for joint in joints for end in joint.ends if isinstance(end, CableEnd))
    if ids:
        yield where, "label", listed([survey.plan.cables[each] for each in ids], "Mark as LOAD: ", ".", box.pointer)
