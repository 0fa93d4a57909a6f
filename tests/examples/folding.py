"""Writes the example houses short: with the author's defaults, each fact said once, and routes left out that follow from their ends.

    PYTHONPATH=service:tests python -m examples.folding [--write] [HOUSE...]

prints each house's size before and after; with ``--write`` the house and its planted faults are written anew. A house that was changed
is unfolded first, so that it can be run again. What it writes gives the same findings in every edition, sound and with each fault.
"""

import copy
import json
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

import jsonpatch
import jsonpointer
from jsonpatch import JsonPatchException
from jsonpointer import JsonPointerException

from nailplate.catalog import catalog
from nailplate.codes import EDITIONS
from nailplate.plan import PART_KINDS, Facts, Plan, PlanRefused
from nailplate.plan.defaults import SEGMENTS
from nailplate.plan.words import How
from nailplate.review import DEFAULT, Options, check
from nailplate.review.selection import Selection
from nailplate.rulekit.case_layout import laid_out
from nailplate.survey import Survey
from nailplate.survey.rough_in import runs
from nailplate.survey.routing import route_of
from nailplate.wire import read_plan_value, resolved
from nailplate.wire.compound_fields import Detail
from nailplate.wire.plan_schema import default_sections

Path_ = tuple[str, ...]
FOLDER: Final = Path(__file__).parents[2] / "service/nailplate/examples"
HOUSES: Final = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")
SHARE: Final = 1 / 3
"""Of a whole house's bytes: routes are left out until it is no more, the longest first."""
EACH_PARTS_OWN: Final = frozenset(
    {
        "wall", "room", "circuit", "second_circuit", "box", "length", "directory", "uses", "position", "serves", "outlet", "disconnect",
        "starts_at", "appliance", "counter", "leads_to", "partner", "power", "switches", "outlets", "extension",
    }
)  # fmt: skip
"""Facts that read badly as defaults, though several parts may say the same."""
HEAD: Final = ("plan_format", "name", "basis", "stage", "units")


def size(value: Any) -> int:
    """Bytes of a value, minified."""
    return len(json.dumps(value, separators=(",", ":"), ensure_ascii=False).encode())


def unfolded(plan: Any) -> Any:
    """The same plan with its defaults in its parts; those of segments stay where routes are worked out."""
    whole = resolved(plan)
    whole.pop("derived", None)
    return whole


# Defaults


def folded(plan: Any, kept: frozenset[Path_] = frozenset(), as_drawn: frozenset[str] = frozenset()) -> Any:
    """The same plan with defaults. ``kept`` are facts that none may state, ``as_drawn`` cables whose segments keep their points."""
    plan = copy.deepcopy(plan)
    joist, given = _joist(plan), plan.pop("defaults", {})
    for name, cable in plan.get("cables", {}).items():
        if "route" in cable and name not in as_drawn:
            cable["route"] = list(continued(cable["route"]))
    defaults = {}
    for name, shape in default_sections().items():
        routes = (segment for cable in plan.get("cables", {}).values() for segment in cable.get("route", ()))
        parts = [*routes] if name == SEGMENTS else [*plan.get(name, {}).values()]
        every = [path for path in paths(shape.schema) if not any((name, *path[:n]) in kept for n in range(1, len(path) + 1))]
        section = fold(parts, every, [*shape.values_of]) if len(parts) > 2 else {}
        if name == SEGMENTS and joist:
            section["joist"] = {**section.get("joist", {}), **joist}
        if section or name in given:
            defaults[name] = section or given[name]
    first = {key: plan[key] for key in HEAD if key in plan}
    return {**first, "defaults": defaults, **{key: value for key, value in plan.items() if key not in first}}


def _joist(plan: Any) -> dict[str, Any]:
    """The joist that most cables are bored through, and how far from its edge: what routes that are worked out take there."""
    bored = [run.segment for run in runs(Survey(read_plan_value(plan))) if run.wall is None and run.segment.how is How.BORED]
    told = Counter((each.member.value, each.edge_distance) for each in bored if each.knows("member", "edge_distance"))
    if not told:
        return {}
    (member, edge), _ = told.most_common(1)[0]
    return {"member": member, "edge_distance": int(edge) if float(edge).is_integer() else edge}


def paths(schema: Any) -> Iterator[Path_]:
    """The facts that may have defaults, members of objects too."""
    for name, field in schema.fields.items():
        key = str(field.data_key or name)
        if key not in EACH_PARTS_OWN:
            yield from ((key, *inner) for inner in paths(field.schema)) if isinstance(field, Detail) else ((key,),)


def fold(parts: list[Any], every: list[Path_], fields: list[str]) -> dict[str, Any]:
    """The defaults of one section; takes from the parts what equals them."""
    section: dict[str, Any] = {}
    for path in every:
        if path[0] not in fields:
            for kind, value in chosen(parts, path, fields).items():
                put(section if kind is None else section.setdefault(kind, {}), path, value)
    for part in parts:
        for path in every:
            if path[0] not in fields and (own := at(part, path)) is not None and same(own, told(section, part, path, fields)):
                drop(part, path)
    for field in fields:
        _fold_kind(section, parts, field)
    return section


def _fold_kind(section: dict[str, Any], parts: list[Any], field: str) -> None:
    """The kind that most parts are of needs no saying."""
    said = [part.get(field) for part in parts]
    value, times = Counter(said).most_common(1)[0]
    if None not in said and times >= 0.4 * len(parts):
        section[field] = value
        for part in parts:
            if part[field] == value:
                del part[field]


def chosen(parts: list[Any], path: Path_, fields: list[str]) -> dict[str | None, Any]:
    """The defaults at a path that save most: one for all with others for some kinds, or for some kinds alone."""
    taking = [part for part in parts if path[0] != "at" or ("at" in part and ("wall" in part["at"] or path[-1] == "height"))]
    best: dict[str | None, Any] = {}
    saved = 0
    for field in fields or [""]:
        groups: dict[str, list[Any]] = {}
        for part in taking:
            if field in part:
                groups.setdefault(part[field], []).append(part)
        kinds = {kind: value for kind, some in groups.items() if (value := commonest(some, path)) is not None}
        for usual in (commonest(taking, path), None):
            found: dict[str | None, Any] = {} if usual is None else {None: usual}
            gain = 0 if usual is None else gained(taking, path, usual) - 12
            for kind, value in kinds.items():
                more = (
                    gained(groups[kind], path, value)
                    - (0 if usual is None else number(groups[kind], path, usual) * bytes_of(path, usual))
                    - 4
                )
                if not same(value, usual) and more > 0:
                    found[kind] = value
                    gain += more
            if gain > saved:
                best, saved = found, gain
    return best


def commonest(parts: list[Any], path: Path_) -> Any:
    """The value that most of the parts state, where all of them state one."""
    said = Counter(json.dumps(at(part, path), sort_keys=True) for part in parts)
    value, times = said.most_common(1)[0] if said else ("null", 0)
    return json.loads(value) if times > 1 and "null" not in said else None


def number(parts: list[Any], path: Path_, value: Any) -> int:
    return sum(same(at(part, path), value) for part in parts)


def gained(parts: list[Any], path: Path_, value: Any) -> int:
    return (number(parts, path, value) - 1) * bytes_of(path, value)


def bytes_of(path: Path_, value: Any) -> int:
    return size({path[-1]: value}) - 1


def told(section: dict[str, Any], part: Any, path: Path_, fields: list[str]) -> Any:
    """What the defaults say of a part at a path."""
    layers = [section.get(part[field]) for field in fields if field in part]
    return next((value for layer in (*layers, section) if (value := at(layer, path)) is not None), None)


def same(one: Any, other: Any) -> bool:
    return json.dumps(one, sort_keys=True) == json.dumps(other, sort_keys=True)


def at(part: Any, path: Path_) -> Any:
    for key in path:
        part = part.get(key) if isinstance(part, dict) else None
    return part


def put(section: dict[str, Any], path: Path_, value: Any) -> None:
    for key in path[:-1]:
        section = section.setdefault(key, {})
    section[path[-1]] = value


def drop(part: dict[str, Any], path: Path_) -> None:
    if len(path) > 1:
        drop(part[path[0]], path[1:])
    if len(path) == 1 or (not part[path[0]] and path[0] != "at"):
        del part[path[0]]


def continued(route: list[Any]) -> Iterator[Any]:
    """The segments of a route, each that goes on from the one before in the short way."""
    before: Any = {}
    for segment in route:
        points, heights = segment.get("points", []), segment.get("heights", [])
        if len(points) == len(heights) == 2 and (points[0], heights[0], segment.get("level")) == before:
            short = {"to": points[1]} if points[1] != points[0] or heights[1] == heights[0] else {}
            high = {"to_height": heights[1]} if heights[1] != heights[0] else {}
            yield {**short, **high, **{key: value for key, value in segment.items() if key not in ("points", "heights")}}
        else:
            yield segment
        before = (points[-1], heights[-1], segment.get("level")) if points and len(points) == len(heights) else {}


# Facts said once


def said_once(plan: Any, faults: list[Any]) -> Any:
    """A whole plan without what another part, the drawing or a label says already; what a fault speaks of stays."""
    paths = [op["path"].split("/") for fault in faults for op in fault["patch"]]
    touched = {tuple(path[1:4]) for path in paths} | {("appliances", path[2]) for path in paths if path[1] == "appliances"}
    plan = copy.deepcopy(plan)
    for name, appliance in plan["appliances"].items():
        outlet = plan["devices"].get(appliance.get("outlet", ""), {})
        once = {"circuit": outlet.get("circuit"), **_elsewhere(plan, name)}
        if appliance.get("connection") == "cord":
            once["disconnect"] = {"kind": "cord_and_plug"}
        _leave_out("appliances", name, appliance, once, touched)
    for name, circuit in plan["circuits"].items():
        _leave_out("circuits", name, circuit, {"directory": circuit.get("label")}, touched)
        if isinstance(circuit.get("position"), list) and ("circuits", name, "position") not in touched:
            circuit["position"] = _first_space(circuit)
    for name, box in plan["boxes"].items():
        labels = [device["label"] for device in plan["devices"].values() if device.get("box") == name and "label" in device]
        _leave_out("boxes", name, box, {"label": box.get("label") if box.get("label") in labels else None}, touched)
    _supplies_once(plan, touched)
    return _without_walls(plan)


def _leave_out(map_name: str, name: str, part: Any, said: dict[str, Any], touched: set[Path_]) -> None:
    for fact, value in said.items():
        if (
            value is not None
            and part.get(fact) == value
            and (map_name, name, fact) not in touched
            and (map_name, name) not in touched
        ):
            del part[fact]


def _elsewhere(plan: Any, name: str) -> dict[str, Any]:
    """The outlet and the room that follow from the rest of the plan."""
    bare = copy.deepcopy(plan)
    for fact in ("outlet", "room"):
        bare["appliances"][name].pop(fact, None)
    found = read_plan_value(bare).appliances[name]
    return {fact: getattr(found, fact) for fact in ("outlet", "room") if found.knows(fact)}


def _first_space(circuit: Any) -> Any:
    spaces, poles = circuit["position"], circuit.get("breaker", {}).get("poles", 1)
    follow = [spaces[0] + 2 * step for step in range(poles)]
    return spaces[0] if spaces == follow else spaces


def _supplies_once(plan: Any, touched: set[Path_]) -> None:
    """A feeder of the house has what stands ahead of it; one disconnect is the main breaker of the panel in its place."""
    for supply_id, supply in plan["supplies"].items():
        ahead = plan["supplies"].get(plan["panels"].get(supply.get("starts_at", ""), {}).get("supply", ""), {})
        for fact in ("disconnect", "emergency_disconnect", "grounding_electrode", "surge_protection"):
            if fact in supply and supply[fact] == ahead.get(fact):
                del supply[fact]
        if supply.get("emergency_disconnect") == supply.get("disconnect"):
            supply.pop("emergency_disconnect", None)
        disconnect = supply.get("disconnect", {}) if ("supplies", supply_id, "disconnect") not in touched else {}
        for name, panel in plan["panels"].items():
            if (
                disconnect.get("at") == panel.get("at")
                and disconnect.get("rating") == panel.get("main_rating")
                and "at" in disconnect
            ):
                rest = {key: value for key, value in disconnect.items() if key not in ("kind", "at", "rating")}
                supply["disconnect"] = {"panel": name, **rest}


def _without_walls(plan: Any) -> Any:
    """Segments without the wall that their points tell."""
    bare = copy.deepcopy(plan)
    for cable in bare["cables"].values():
        for segment in cable.get("route", ()):
            segment.pop("wall", None)
    told, stated = ({run.id: run.wall for run in runs(Survey(read_plan_value(each)))} for each in (bare, plan))
    for name, cable in plan["cables"].items():
        for place, segment in enumerate(cable.get("route", ())):
            one, other = told[name, place], stated[name, place]
            if one is not None and other is not None and one.id == other.id:
                segment.pop("wall", None)
    return plan


# Routes that follow from their ends


SPOKEN_OF: Final = frozenset({"living-b"})
"""Cables whose drawn routes tests speak of by name."""


def ends_only(plan: Any, faults: list[Any], short: Callable[[Any], Any], most: float) -> Any:
    """A house without routes that are worked out with the same findings, as few as make it short enough; the longest texts go first."""
    free = [name for name, cable in plan["cables"].items() if name not in _drawn_for(faults) and cable.get("route")]
    free.sort(key=lambda name: -size(plan["cables"][name]["route"]))
    base = judged(short(plan), "2023", OF_ROUTES)
    left = 0
    while left < len(free) and size(short(plan)) > most:
        plan = _without_routes(plan, free[left : left + AT_ONCE], base, short)
        left += AT_ONCE
    return plan


def _drawn_for(faults: list[Any]) -> frozenset[str]:
    """Cables whose routes a fault changes, replaces with the cable, or is found in."""
    paths = [op["path"] for fault in faults for op in fault["patch"] if op["path"].startswith("/cables/")]
    changed = {path.split("/")[2] for path in paths if "/route" in path or path.count("/") == 2}
    finds = [each for fault in faults for each in (fault["finds"] if isinstance(fault["finds"], list) else [fault["finds"]])]
    found = {each["at"].split("/")[2] for each in finds if each["at"].startswith("/cables/")}
    return frozenset(changed | found | SPOKEN_OF)


AT_ONCE: Final = 6
"""Routes that are tried together; where they change a finding, halves of them are."""


def _without_routes(plan: Any, names: list[str], base: Any, short: Callable[[Any], Any]) -> Any:
    bare = copy.deepcopy(plan)
    for name in names:
        del bare["cables"][name]["route"]
        bare["cables"][name].pop("length", None)
    survey = Survey(read_plan_value(bare))
    routed = all(route_of(survey, survey.plan.cables[name]).along is not None for name in names)
    if routed and judged(short(bare), "2023", OF_ROUTES) == base:
        return bare
    half = len(names) // 2
    return _without_routes(_without_routes(plan, names[:half], base, short), names[half:], base, short) if half else plan


OF_ROUTES: Final = Options(selection=Selection(rules=("rough_in", "circuits")))
"""The rules that ask how cables run."""


def judged(plan: Any, edition: str, options: Options = DEFAULT) -> Any:
    """What a check finds, and which rules pass."""
    report = check(read_plan_value({**plan, "basis": {**plan["basis"], "edition": edition}}), catalog(), options)
    found = sorted(
        (each.rule, str(each.where.pointer), each.outcome, each.severity) for each in (*report.findings, *report.accepted)
    )
    passed = {each.rule for each in report.coverage.rules if each.passed or each.not_concerned}
    return found, passed, report.verdict


# Planted faults


def adapted(fault: Any, whole: Any, short: Any) -> list[Any]:
    """A fault's patch for the folded house: the same facts, stated at the part where a default or nothing states them now."""
    patched = jsonpatch.apply_patch(whole, fault["patch"])
    patch = merged([done for op in fault["patch"] if (done := _operation(op, short)) is not None])
    patch += _denied(fault, patched, short)
    if _means(short, patch, patched):
        return patch
    more = [*patch, *_differing(fault["patch"], jsonpatch.apply_patch(short, patch), patched)]
    return more if _means(short, more, patched) else list(_whole_parts(fault["patch"], short, patched))


def _differing(patch: list[Any], short: Any, patched: Any) -> Iterator[Any]:
    """What the parts that a patch touches take from a default of another kind then, stated as it was."""
    try:
        now = unfolded(short)
    except PlanRefused:
        return
    for map_name, name in dict.fromkeys(tuple(op["path"].split("/")[1:3]) for op in patch if op["path"].count("/") > 1):
        one, other = now.get(map_name, {}).get(name), patched.get(map_name, {}).get(name)
        if isinstance(one, dict) and isinstance(other, dict):
            yield from _leaves(f"/{map_name}/{name}", one, other, short)


def _leaves(path: str, one: Any, other: Any, short: Any) -> Iterator[Any]:
    for key, value in other.items():
        if isinstance(value, dict) and isinstance(one.get(key), dict):
            yield from _leaves(f"{path}/{key}", one[key], value, short)
        elif (
            key in one
            and one[key] != value
            and (op := _operation({"op": "add", "path": f"{path}/{key}", "value": value}, short))
        ):
            yield op


def _denied(fault: Any, patched: Any, short: Any) -> Iterator[Any]:
    """The fact that a finding points to, stated there: a default that states it would be pointed to instead."""
    for each in fault["finds"] if isinstance(fault["finds"], list) else [fault["finds"]]:
        op = {"op": "add", "path": each["at"]}
        if (
            each["at"].count("/") > 3
            and each["at"].rpartition("/")[2].isalpha()
            and jsonpointer.resolve_pointer(short, each["at"], None) is None
        ):
            yield {**op, "value": jsonpointer.resolve_pointer(patched, each["at"])}


def _operation(op: Any, short: Any) -> Any:
    tokens = [token.replace("~1", "/").replace("~0", "~") for token in op["path"].split("/")[1:]]
    value, found = short, 0
    while found < len(tokens) and tokens[found] in (value if isinstance(value, dict) else map(str, range(len(value)))):
        value, found = value[int(tokens[found]) if isinstance(value, list) else tokens[found]], found + 1
    if found == len(tokens):
        return op
    if op["op"] == "remove":
        return None  # a default states it, of a kind that the part may no longer be of
    inner = op["value"]
    for token in reversed(tokens[found + 1 :]):
        inner = {token: inner}
    path = "".join("/" + token.replace("~", "~0").replace("/", "~1") for token in tokens[: found + 1])
    return {**op, "op": "add", "path": path, "value": inner}


def merged(patch: list[Any]) -> list[Any]:
    """Operations that add members of one new object one after the other, as one."""
    done: list[Any] = []
    for op in patch:
        same_place = next(
            (
                each
                for each in done
                if each["path"] == op["path"] and each["op"] == op["op"] == "add" and isinstance(op["value"], dict)
            ),
            None,
        )
        if same_place is None:
            done.append(dict(op))
        else:
            same_place["value"] = {**same_place["value"], **op["value"]}
    return done


def _whole_parts(patch: list[Any], short: Any, patched: Any) -> Iterator[Any]:
    for map_name, name in dict.fromkeys(tuple(op["path"].split("/")[1:3]) for op in patch):
        op = "replace" if name in short[map_name] else "add"
        path = f"/{map_name}/{name}"
        yield (
            {"op": op, "path": path, "value": patched[map_name][name]}
            if name in patched[map_name]
            else {"op": "remove", "path": path}
        )


def _means(short: Any, patch: list[Any], patched: Any) -> bool:
    """Whether the parts that a patch touches state the same on both houses, or the same is found."""
    try:
        one, other = (read_plan_value(each) for each in (jsonpatch.apply_patch(short, patch), patched))
    except (PlanRefused, JsonPatchException, JsonPointerException):
        return False
    named = {tuple(op["path"].split("/")[1:3]) for op in patch}
    if all(_alike(_stated(one, *names), _stated(other, *names)) for names in named):
        return True
    return bool(judged(jsonpatch.apply_patch(short, patch), "2023")[0] == judged(patched, "2023")[0])


def _alike(one: Any, other: Any) -> bool:
    """Whether the same is stated; a route that is left out, and its length, follow from the ends."""
    if isinstance(one, dict) and isinstance(other, dict) and "ends" in one and "route" not in one:
        other = {name: value for name, value in other.items() if name in one or name not in ("route", "length")}
    return bool(one == other)


def _stated(plan: Plan, map_name: str, name: str | None = None) -> Any:
    """What a plan states of one part; of all in a map, or of what is no map, where none is named."""
    if name is None or map_name not in PART_KINDS:
        found = getattr(plan, map_name)
        return {key: _facts(part) for key, part in found.items()} if map_name in PART_KINDS else _facts(found)
    part = getattr(plan, map_name).get(name)
    return None if part is None else _facts(part)


def _facts(value: Any) -> Any:
    """What is stated, whatever part or default states it; the wall of a segment and a label follow from the rest."""
    if isinstance(value, Facts):
        return {
            name: _facts(getattr(value, name)) for name in sorted(value.stated) if name not in ("label", "wall", "directory")
        }
    return [_facts(each) for each in value] if isinstance(value, tuple) else value


# The files


def rewritten(house: str) -> tuple[Any, Any, Any]:
    """The whole house, the folded one, and its faults."""
    faults = json.loads((FOLDER / f"{house}.faults.json").read_text(encoding="utf-8"))
    now = json.loads((FOLDER / f"{house}.json").read_text(encoding="utf-8"))
    whole = unfolded(now)
    removed = (op["path"].split("/") for fault in faults["faults"] for op in fault["patch"] if op["op"] == "remove")
    kept = frozenset((path[1], *path[3:]) for path in removed if len(path) > 3 and path[1] != "cables")
    moved = (op["path"] for fault in faults["faults"] for op in fault["patch"] if op["path"].endswith(("/points", "/heights")))
    as_drawn = frozenset(path.split("/")[2] for path in moved)

    def short(plan: Any) -> Any:
        return folded(plan, kept, as_drawn)

    done = short(ends_only(said_once(whole, faults["faults"]), faults["faults"], short, SHARE * size(whole)))
    for fault in faults["faults"]:
        fault["patch"] = adapted(fault, now, done)
    return whole, done, faults


def main(asked: list[str]) -> None:
    """Prints sizes and, if asked, writes."""
    for house in [name for name in HOUSES if name in asked] or HOUSES:
        whole, done, faults = rewritten(house)
        left_out = sum("route" not in cable for cable in done["cables"].values())
        print(
            f"{house}: {size(whole)} bytes whole, {size(done)} folded, {size(done) / size(whole):.3f}; {left_out} of {len(done['cables'])} routes left out"
        )
        if "--write" in asked:
            for name, value in ((house, done), (f"{house}.faults", faults)):
                (FOLDER / f"{name}.json").write_text("\n".join(laid_out(value, whole=2)) + "\n", encoding="utf-8")
        print(
            f"{house}: other findings in {[each for each in EDITIONS if judged(whole, each)[::2] != judged(done, each)[::2]]}",
            flush=True,
        )


if __name__ == "__main__":
    main(sys.argv[1:])
