"""What a house needs by its rooms alone, while no devices are drawn for the rules to judge: alarms and protection by place."""

from collections.abc import Iterator, Mapping
from typing import Final

from nailplate.codes import GfciItem, TextStatus
from nailplate.plan import ROOT, Room
from nailplate.plan.trade import ARC_FAULT_ROOMS, OUTDOOR
from nailplate.plan.words import LevelKind, Use
from nailplate.rulekit import Job
from nailplate.sheets.requirements.items import RequiredTopic, Requirement, Said
from nailplate.survey.lights.alarms import is_lived_in, is_loft, sleeping_rooms
from nailplate.survey.names import name_of

_BY_USE: Final[Mapping[GfciItem, frozenset[Use]]] = {
    GfciItem.BATHROOM: frozenset({Use.BATHROOM, Use.TOILET}),
    GfciItem.GARAGE: frozenset({Use.GARAGE}),
    GfciItem.OUTDOORS: OUTDOOR,
    GfciItem.CRAWL_SPACE: frozenset({Use.CRAWL_SPACE}),
    GfciItem.BASEMENT: frozenset({Use.BASEMENT}),
    GfciItem.KITCHEN: frozenset({Use.KITCHEN}),
    GfciItem.LAUNDRY: frozenset({Use.LAUNDRY}),
}
"""The listed places that are told by what a room is used for; those measured by cord wait for receptacles to measure from."""
_STORIES = frozenset({LevelKind.STOREY, LevelKind.BASEMENT})


def by_rooms(job: Job, cited: Mapping[str, Said]) -> Iterator[Requirement]:
    """Alarms and protection by what rooms are used for. ``cited`` holds the sections of the rules that are in force."""
    if "smoke-alarm-places" in cited:
        yield from _alarms(job, cited["smoke-alarm-places"])
    for room in job.plan.rooms.values():
        if "bath-receptacle" in cited and Use.BATHROOM in room.uses and not job.survey.fixtures_in_room.get(room.id):
            yield _of(cited["bath-receptacle"], room, "receptacles", "a receptacle beside each basin, once the basin is drawn")
        if "gfci-locations" in cited:
            yield from _ground_faults(job, room, cited["gfci-locations"])
        if "afci-rooms" in cited and ARC_FAULT_ROOMS.intersection(room.uses):
            yield _of(cited["afci-rooms"], room, "protection", "AFCI protection of the 120 V circuits of 15 A and 20 A")
        if "weather-resistant" in cited and OUTDOOR.intersection(room.uses):
            yield _of(cited["weather-resistant"], room, "protection", "weather-resistant receptacles")
    if "tamper-resistant" in cited and job.plan.rooms:
        yield _for_house(cited["tamper-resistant"], "tamper-resistant receptacles of 15 A and 20 A")


def _alarms(job: Job, cite: Said) -> Iterator[Requirement]:
    sleeping = sleeping_rooms(job.survey)
    for room in sleeping:
        loft = " (a loft: the authority having jurisdiction decides)" if is_loft(job.survey, room) else ""
        yield _of(cite, room, "alarms", f"a smoke alarm{loft}")
        if not is_lived_in(room):
            yield _of(cite, room, "alarms", "a smoke alarm outside, near its door or the foot of its stair")
    for level in job.plan.levels.values():
        if level.kind in _STORIES and not any(room.level == level.id for room in sleeping):
            yield Requirement(
                "alarms",
                level.pointer,
                name_of(level),
                "a smoke alarm on this story",
                cite.section,
                cite.text_status,
                "unknown",
                rule=cite.rule,
                needs=(ROOT / "devices",),
            )


def _ground_faults(job: Job, room: Room, cite: Said) -> Iterator[Requirement]:
    listed = job.edition.gfci_locations
    for item, uses in _BY_USE.items():
        place = listed.items.get(item)
        if place is None or not place.applies or not uses.intersection(room.uses):
            continue
        partial = item is GfciItem.KITCHEN and not listed.whole_kitchens
        what = "GFCI protection of the receptacles that serve counters" if partial else "GFCI protection of receptacles"
        status = cite.text_status
        yield _of(
            Said(cite.rule, room.pointer, None, f"NEC {job.edition.year} {place.section}", status), room, "protection", what
        )


def _of(cite: Said, room: Room, topic: RequiredTopic, what: str) -> Requirement:
    name, status = name_of(room), TextStatus(cite.text_status)
    needs = (ROOT / "devices",)
    return Requirement(
        topic, room.pointer, name, what, cite.section, status, "unknown", room=room.id, rule=cite.rule, needs=needs
    )


def _for_house(cite: Said, what: str) -> Requirement:
    needs = (ROOT / "devices",)
    return Requirement(
        "protection", ROOT, "the house", what, cite.section, cite.text_status, "unknown", rule=cite.rule, needs=needs
    )
