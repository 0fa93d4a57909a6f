"""Boxes of a kind in one room stand at one height.

Why: a receptacle 2 in higher than its neighbors is seen for as long as the house stands, and is dear to move behind drywall.

Fix: set them all from one story pole or a laser line, at the height that most of them have.

Trap: boxes over a counter, for one appliance, and under a low window are kinds of their own and are left out.

Does not judge: boxes on low or high rows: receptacles below 6 in or over 30 in, switches below 36 in or over 60 in, boxes with
devices of several kinds, and boxes for one appliance. Which height is right is for `usual-heights`.
"""

from collections import Counter
from collections.abc import Iterator
from typing import Final

from nailplate.plan import Box, Pointer, Room, UnknownFact, WallPlace
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, replace
from nailplate.survey import Survey, standing
from nailplate.survey.names import name_of
from nailplate.units import inches, shown, within, written

EVEN: Final = 0.5
"""Inches by which boxes of one row differ and still look level (common practice)."""
ROWS: Final = {"receptacles": (6.0, 30.0), "switches": (36.0, 60.0)}
"""Heights of the ordinary row of each kind; a box beyond is there for something of its own."""
KINDS: Final = {DeviceKind.RECEPTACLE: "receptacles", DeviceKind.SWITCH: "switches", DeviceKind.DIMMER: "switches"}


@rule(
    id="even-heights",
    over=Room,
    severity=Severity.ADVICE,
    subjects=(Subject.USUAL_PLACES,),
    cites={
        "nec-2017": Cite("No code requirement: common practice", note="https://forums.mikeholt.com/showthread.php?t=191511")
    },
    hazards=(Hazard.BURIED,),
)
def even_heights(room: Room, job: Job) -> Iterator[Outcome]:
    """Common practice: the rows of receptacles and switches in one room."""
    rows, unknown = job.survey.once(_rows)
    yield from (_row(room, kind, boxes) for kind, boxes in rows.get(room.id, {}).items())
    if room.id in unknown:
        yield Undetermined(tuple(unknown[room.id]), facet="heights")
    elif room.id not in rows:
        yield NotConcerned()


def _rows(survey: Survey) -> tuple[dict[str, dict[str, list[Box]]], dict[str, list[Pointer]]]:
    rows: dict[str, dict[str, list[Box]]] = {}
    unknown: dict[str, list[Pointer]] = {}
    for box in survey.plan.boxes.values():
        kind = _kind(survey, box)
        if kind is None or not box.knows("at") or not isinstance(box.at, WallPlace):
            continue
        try:
            room = standing(survey, box).room
        except UnknownFact:  # unknown: a box that is in no known room is in no row of one
            continue
        if room is not None and not box.at.knows("height"):
            unknown.setdefault(room.id, []).append(box.at.where("height"))
        elif room is not None and ROWS[kind][0] <= box.at.height <= ROWS[kind][1]:
            rows.setdefault(room.id, {}).setdefault(kind, []).append(box)
    return rows, unknown


def _kind(survey: Survey, box: Box) -> str | None:
    devices = [device for device in survey.devices_in_box.get(box.id, []) if not device.knows("part_of")]
    if any(device.isnt(serves=()) or device.knows("dedicated_space") for device in devices):
        return None
    kinds = {KINDS.get(device.kind) for device in devices}
    return kinds.pop() if len(kinds) == 1 else None


def _row(room: Room, kind: str, boxes: list[Box]) -> Outcome:
    (usual, many), *_ = Counter(box.at.height for box in boxes).most_common()
    odd = [box for box in boxes if not within(abs(box.at.height - usual), EVEN)]
    if not odd or many <= len(odd):
        return Pass(inches(usual), facet=kind)
    names = ", ".join(f"{name_of(box)} at {shown(inches(box.at.height))}" for box in odd[:4])
    patch = tuple(replace(box.at.where("height"), written(inches(usual))) for box in odd)
    said = (
        f"{name_of(room)}: {many} {kind} stand at {shown(inches(usual))}, and {names} (common practice, no code requirement)."
    )
    remedies = (Remedy(f"Set them at {shown(inches(usual))}, unless it is meant so.", patch),)
    related = tuple(box.pointer for box in odd)
    return Violation(said, inches(odd[0].at.height), inches(usual), remedies, facet=kind, related=related)
