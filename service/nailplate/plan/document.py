"""The plan document whole: its basis, and the maps that hold its parts."""

import re
from collections.abc import Iterator, Mapping
from typing import Annotated, Any, TypeVar, get_type_hints

from nailplate.plan import words
from nailplate.plan.cables import Cable
from nailplate.plan.defaults import Defaults
from nailplate.plan.derived import Derived
from nailplate.plan.facts import AtLeast, AtMost, Doc, Due, Facts, Items, Key, Needed, Note, Part, Stage, drawn, json_names
from nailplate.plan.house import Counter, Fixture, Level, Opening, Room, Stair, Wall
from nailplate.plan.marks import Area, Date
from nailplate.plan.needs import Need
from nailplate.plan.pointer import ROOT, Pointer
from nailplate.plan.supplies import Supply
from nailplate.plan.wiring import Appliance, Box, Circuit, Control, Device, Panel

AnyPart = TypeVar("AnyPart")


@drawn
class Amendment(Part):
    """A local change to the code, as data."""

    change: Annotated[words.Change, Doc("what it does"), Needed]
    rule: Annotated[
        str, Doc("the rule that is switched off, or whose severity changes; without a rule a table's entry is switched")
    ]
    severity: Annotated[words.Severity, Doc("the severity that the rule gets")]
    table: Annotated[
        str, Doc("the code table of which an entry changes; `limits` and `provisions` hold what the code says in sentences")
    ]
    entry: Annotated[
        str,
        Doc("the entry of that table, dotted: `per_conductor.14 AWG`, `items.garages.applies`, `fan_heaviest.value`"),
    ]
    value: Annotated[float, Doc("its local value, in the table's unit")]
    citation: Annotated[str, Doc("the local ordinance or rule"), Needed]
    reason: Annotated[str, Doc("why it applies here"), Needed]


@drawn
class Ruling(Part):
    """An answer of the authority having jurisdiction: it settles a judgement, of severity danger too."""

    rule: Annotated[str, Doc("the rule's id"), Needed]
    part: Annotated[str, Doc("JSON Pointer of the part, e.g. `/devices/kit-2`"), Needed]
    reading: Annotated[words.RuledAs, Doc("the reading that holds: one of those that the judgement gives"), Needed]
    by: Annotated[str, Doc("who answered, by name and office"), Needed]
    date: Annotated[Date, Doc("the day of the answer"), Needed]
    note: Annotated[str, Doc("what was answered, or where it is kept")]


@drawn
class Basis(Facts):
    """What the house is judged by."""

    edition: Annotated[words.EditionName, Doc("the NEC edition in force"), Needed]
    permit_date: Annotated[Date, Doc("some exceptions of the code end on a date")]
    regime: Annotated[words.Regime, Doc("which rules it is built under")]
    provisions: Annotated[tuple[words.Provision, ...], Doc("permanent provisions it has"), Items(0, 4)]
    on_wheels: Annotated[bool, Doc("whether it stands on wheels")]
    building: Annotated[words.BuildingKind, Doc("the kind of building that the dwelling is, or is in")]
    at_grade: Annotated[bool, Doc("whether one unit of several is at grade level, with an entrance of its own there")]
    utility_power: Annotated[bool, Doc("whether it has utility power")]
    floor_area: Annotated[Area, Doc("of the dwelling by outside dimensions, where it is known better than from the drawing")]
    jurisdiction: Annotated[str, Doc("where it is built")]
    residential_code: Annotated[words.ResidentialCode, Doc("the IRC edition in force")]
    amendments: Annotated[dict[str, Amendment], Doc("local changes to the code")]
    rulings: Annotated[
        dict[str, Ruling], Doc("what the authority having jurisdiction answered where the code can be read two ways")
    ]


@drawn
class PlanUnits(Facts):
    """What bare numbers mean."""

    length: Annotated[words.LengthUnit, Doc("of bare numbers for lengths; inches unless said")]


@drawn
class Suppression(Part):
    """A finding that somebody has accepted."""

    rule: Annotated[str, Doc("the rule's id"), Needed]
    part: Annotated[str, Doc("JSON Pointer of the part, e.g. `/boxes/kit-2`"), Needed]
    reason: Annotated[str, Doc("why it is accepted"), Needed]
    accepted_by: Annotated[str, Doc("who accepted it"), Needed]
    until: Annotated[Date, Doc("the last day that it holds")]


@drawn
class Plan(Facts):
    """One house as drawn. A map that the document leaves out is empty here; `knows` tells it from one that is drawn empty."""

    schema_address: Annotated[
        str,
        Key("$schema"),
        Doc("address of the published schema, for editors that complete and explain; nothing reads it"),
        Note,
    ]
    plan_format: Annotated[int, Doc("the version of this format"), AtLeast(1), AtMost(1), Needed]
    name: Annotated[str, Doc("the plan's name"), Needed]
    basis: Annotated[Basis, Doc("what the house is judged by"), Needed]
    stage: Annotated[Stage, Doc("how far the author has come; left out: everything is expected")]
    units: Annotated[PlanUnits, Doc("what bare numbers mean")]
    defaults: Annotated[Defaults, Doc("facts said once for many parts, by map and kind; a part's own fact goes before them")]
    supplies: Annotated[dict[str, Supply], Doc("how power arrives"), Due(Stage.CIRCUITS)]
    levels: Annotated[dict[str, Level], Doc("levels of the house and the ground around it")]
    walls: Annotated[dict[str, Wall], Doc("walls by their center lines")]
    openings: Annotated[dict[str, Opening], Doc("doors, windows and other openings")]
    rooms: Annotated[dict[str, Room], Doc("rooms, areas and outdoor places")]
    stairs: Annotated[dict[str, Stair], Doc("stairs and ladders")]
    counters: Annotated[dict[str, Counter], Doc("counters, islands and fixed cabinets")]
    fixtures: Annotated[dict[str, Fixture], Doc("what is built in")]
    appliances: Annotated[dict[str, Appliance], Doc("appliances")]
    panels: Annotated[dict[str, Panel], Doc("panels"), Due(Stage.CIRCUITS)]
    circuits: Annotated[dict[str, Circuit], Doc("branch circuits"), Due(Stage.CIRCUITS)]
    boxes: Annotated[dict[str, Box], Doc("boxes"), Due(Stage.ROUGH_IN)]
    devices: Annotated[dict[str, Device], Doc("devices and outlets")]
    cables: Annotated[dict[str, Cable], Doc("cables"), Due(Stage.ROUGH_IN)]
    controls: Annotated[dict[str, Control], Doc("what switches what"), Due(Stage.CIRCUITS)]
    needs: Annotated[
        dict[str, Need], Doc("what will be used where, in the owner's words; no rule judges it, the report answers it")
    ]
    suppressions: Annotated[dict[str, Suppression], Doc("accepted findings")]
    derived: Annotated[
        dict[Pointer, Derived], Doc("of a resolved plan, by pointer: where values come from; nothing reads it"), Note
    ]
    extra: Annotated[dict[str, object], Doc("the caller's own data; nothing reads it"), Note]

    def __init__(self, facts: Mapping[str, object]) -> None:
        stated: Mapping[str, Any] = facts
        maps = {name: in_order(stated.get(name, {})) for name in PART_KINDS}
        Facts.__init__(self, ROOT, {**maps, **facts, **maps})
        object.__setattr__(self, "stated", frozenset(facts))  # a map left out is not said; an empty one says none is drawn yet

    def map_of(self, kind: type[Part]) -> Mapping[str, Part]:
        """The map that holds parts of this kind."""
        found: Mapping[str, Part] = getattr(self, MAP_NAMES[kind])
        return found

    def parts(self) -> Iterator[Part]:
        """Every part, map by map in the order of this class, each map by id."""
        for name in PART_KINDS:
            yield from getattr(self, name).values()


_DIGITS = re.compile("([0-9]+)")


def in_order(parts: Mapping[str, AnyPart]) -> dict[str, AnyPart]:
    """A map by its ids, numbers in them as numbers: ``r2`` before ``r10``.

    The keys of an object have no order in JSON. Parts are looked at in one of our own, so that no other order of the same plan
    changes a finding.
    """
    return dict(sorted(parts.items(), key=lambda entry: (_natural(entry[0]), entry[0])))


def _natural(part_id: str) -> list[str | int]:
    return [int(piece) if number % 2 else piece for number, piece in enumerate(_DIGITS.split(part_id))]


PART_KINDS: Mapping[str, type[Part]] = {
    "supplies": Supply,
    "levels": Level,
    "walls": Wall,
    "openings": Opening,
    "rooms": Room,
    "stairs": Stair,
    "counters": Counter,
    "fixtures": Fixture,
    "appliances": Appliance,
    "panels": Panel,
    "circuits": Circuit,
    "boxes": Box,
    "devices": Device,
    "cables": Cable,
    "controls": Control,
    "needs": Need,
    "suppressions": Suppression,
}
"""The name of each map of a plan and the kind of part it holds."""

MAP_NAMES: Mapping[type[Part], str] = {kind: name for name, kind in PART_KINDS.items()}


def due(pointer: Pointer) -> Stage:
    """The stage at which an author is expected to state the fact at ``pointer``."""
    members = pointer.members
    if len(members) >= 3 and members[0] in PART_KINDS:
        stage = _FIELD_STAGES.get((PART_KINDS[members[0]], members[2]))
        if stage:
            return stage
    return _MAP_STAGES.get(members[0] if members else "", Stage.LAYOUT)


def _marked_stages(kind: type[Facts]) -> dict[str, Stage]:
    hints = get_type_hints(kind, include_extras=True)
    marked = {}
    for name, hint in hints.items():
        for mark in getattr(hint, "__metadata__", ()):
            if isinstance(mark, Due):
                marked[json_names(kind)[name]] = mark.stage
    return marked


_MAP_STAGES = _marked_stages(Plan)
_FIELD_STAGES = {(kind, name): stage for kind in PART_KINDS.values() for name, stage in _marked_stages(kind).items()}
