"""Prints what plans cost that are built to be dense: everything in one room, on one wall, in one box, on one circuit.

Run: ``PYTHONPATH=service:tests python tests/bench/dense.py [name ...] [--profile]``. Each plan is read and checked once; the last
columns are the time per byte against that of an example house, and the microseconds to a step of work. The first should stay under
10, or the plan end as over budget; the second tells whether walks pay for what they do: a step of an ordinary house takes ten.
"""

import cProfile
import json
import pstats
import sys
from collections.abc import Callable, Iterator
from importlib.resources import files
from time import process_time
from typing import Any

from nailplate import collector
from nailplate.calc.work import Meter, metered
from nailplate.catalog import catalog
from nailplate.plan import Plan, PlanRefused
from nailplate.review import BUDGET, Options, OverBudget, check
from nailplate.wire import read_plan

Document = dict[str, Any]
ORDINARY = "tamarack-wren"
WIDE = 3590
"""Inches of a wall a little shorter than the longest that is taken."""


def house(**maps: Any) -> Document:
    """A plan of the least facts, one story, with these maps."""
    return {
        "plan_format": 1,
        "name": "dense",
        "basis": {"edition": "2023", "regime": "dwelling"},
        "levels": {"m": {"kind": "storey", "ceiling": {"height": 96}}},
        **maps,
    }


def ring(left: float, bottom: float, right: float, top: float) -> list[list[float]]:
    """An upright rectangle."""
    return [[left, bottom], [right, bottom], [right, top], [left, top]]


def wall(start: list[float], end: list[float], kind: str = "exterior") -> Document:
    """A wall of the story."""
    return {"level": "m", "from": start, "to": end, "thickness": 6, "height": 96, "kind": kind}


def shell(wide: float = WIDE, deep: float = 400, use: str = "living") -> Document:
    """One room with its four walls."""
    corners = ring(-3, -3, wide + 3, deep + 3)
    walls = {f"w{n}": wall(corners[n], corners[(n + 1) % 4]) for n in range(4)}
    return {"walls": walls, "rooms": {"r": {"level": "m", "uses": [use], "outline": ring(0, 0, wide, deep)}}}


def circuit(**more: Any) -> Document:
    """An ordinary circuit of a panel."""
    facts = {"panel": "p", "voltage": 120, "neutral": True, "breaker": {"rating": 20, "poles": 1, "protects": "none"}}
    return {**facts, "conductor": {"size": "12 AWG", "material": "copper", "type": "NM-B"}, "purpose": "general", **more}


PANEL = {"panels": {"p": {"kind": "service"}}, "circuits": {"c": circuit()}}


def receptacle(along: float, **more: Any) -> Document:
    """A receptacle on the first wall."""
    at = {"wall": "w0", "along": along, "height": 16, "side": "left"}
    return {"kind": "receptacle", "at": at, "circuit": "c", "rating": 20, "voltage": 125, **more}


def cable(one: Document, other: Document, **more: Any) -> Document:
    """A 12-2 between two ends."""
    return {"type": "NM-B", "size": "12 AWG", "insulated": 2, "grounding": "12 AWG", "ends": [one, other], **more}


def devices_on_a_wall(number: int = 2000) -> Document:
    devices = {f"d{n}": receptacle(5 + n * (WIDE - 10) / number) for n in range(number)}
    return house(**shell(), **PANEL, devices=devices)


def cables_in_a_box(number: int = 1000) -> Document:
    cables = {f"c{n}": cable({"box": "b"}, {"box": f"b{n}"}, circuit="c") for n in range(number)}
    boxes = {"b": {"volume": "18 in3", "gangs": 1}, **{f"b{n}": {"volume": "18 in3"} for n in range(number)}}
    return house(**PANEL, boxes=boxes, cables=cables | {"feed": cable({"panel": "p"}, {"box": "b"}, circuit="c")})


def cables_between_two_boxes(number: int = 1000) -> Document:
    cables = {f"c{n}": cable({"box": "a"}, {"box": "b"}) for n in range(number)}
    devices = {"d": {"kind": "receptacle", "box": "b", "circuit": "c"}}
    return house(**PANEL, boxes={"a": {}, "b": {}}, devices=devices, cables=cables | {"f": cable({"panel": "p"}, {"box": "a"})})


def controls_of_the_same(number: int = 400) -> Document:
    switches = {f"s{n}": {"kind": "switch", "circuit": "c", "box": "b"} for n in range(10)}
    lights = {f"l{n}": {"kind": "luminaire", "circuit": "c", "box": f"b{n}"} for n in range(100)}
    controls = {f"k{n}": {"switches": list(switches), "outlets": list(lights)} for n in range(number)}
    boxes: Document = {"b": {}, **{f"b{n}": {} for n in range(100)}}
    return house(**PANEL, boxes=boxes, devices=switches | lights, controls=controls)


def switches_in_a_box(number: int = 300) -> Document:
    switches = {f"s{n}": {"kind": "switch", "circuit": "c", "box": "b"} for n in range(number)}
    lights = {f"l{n}": {"kind": "luminaire", "circuit": "c", "box": f"b{n}"} for n in range(number)}
    controls = {f"k{n}": {"switches": [f"s{n}"], "outlets": [f"l{n}"]} for n in range(number)}
    boxes: Document = {"b": {}, **{f"b{n}": {} for n in range(number)}}
    cables = {f"c{n}": cable({"box": "b"}, {"box": f"b{n}"}, circuit="c") for n in range(number)}
    cables["f"] = cable({"panel": "p"}, {"box": "b"}, circuit="c")
    return house(**PANEL, boxes=boxes, devices=switches | lights, controls=controls, cables=cables)


def comb_of_jogs(number: int = 500) -> Document:
    step = WIDE / number
    points = [[step * (n // 2 + n % 2), 60 * ((n // 2) % 2)] for n in range(number + 1)]
    walls = {f"w{n}": wall(points[n], points[n + 1], "interior") for n in range(number)}
    teeth = [[x, y + 3] for x, y in points[:190]]
    outline = [*teeth, [teeth[-1][0], 300], [teeth[0][0], 300]]
    return house(walls=walls, rooms={"r": {"level": "m", "uses": ["living"], "outline": outline}})


def maze_of_rooms(side: int = 25) -> Document:
    size = 3000 / side
    places = [(x * size, y * size) for x in range(side) for y in range(side)]
    walls = {f"h{n}": wall([x, y], [x + size, y], "interior") for n, (x, y) in enumerate(places)}
    walls |= {f"v{n}": wall([x, y], [x, y + size], "interior") for n, (x, y) in enumerate(places)}
    uses = ("living", "hallway", "bathroom", "closet", "bedroom", "kitchen")
    rooms = {
        f"r{n}": {"level": "m", "uses": [uses[n % 6]], "outline": ring(x + 3, y + 3, x + size - 3, y + size - 3)}
        for n, (x, y) in enumerate(places)
    }
    doors = {f"o{n}": {"wall": f"v{n}", "along": 20, "width": 32, "kind": "cased"} for n in range(len(places))}
    return house(walls=walls, rooms=rooms, openings=doors)


def open_maze(side: int = 25) -> Document:
    """Rooms that share edges without a wall on them."""
    size = 3000 / side
    places = [(x * size, y * size) for x in range(side) for y in range(side)]
    outlines = (ring(x, y, x + size, y + size) for x, y in places)
    return house(rooms={f"r{n}": {"level": "m", "uses": ["living"], "outline": each} for n, each in enumerate(outlines)})


def chain_of_gfcis(number: int = 500) -> Document:
    devices = {f"d{n}": receptacle(5 + n * 7, gfci=True) for n in range(number)}
    for n in range(1, number):
        devices[f"d{n}"]["feed_through_source"] = f"d{n - 1}"
    return house(**shell(use="kitchen"), **PANEL, devices=devices)


def unsaid_gfcis(number: int = 600) -> Document:
    devices = {
        f"d{n}": receptacle(5 + n * 5, **({"gfci": True} if n % 2 else {"fed_from": "load_side"})) for n in range(number)
    }
    return house(**shell(use="kitchen"), **PANEL, devices=devices)


def chain_of_boxes(number: int = 2000) -> Document:
    boxes = {f"b{n}": {"volume": "18 in3"} for n in range(number)}
    devices = {
        f"d{n}": {"kind": "receptacle", "box": f"b{n}", "circuit": "c", "rating": 20, "voltage": 125} for n in range(number)
    }
    cables = {
        f"c{n}": cable({"box": f"b{n - 1}"} if n else {"panel": "p"}, {"box": f"b{n}"}, circuit="c") for n in range(number)
    }
    return house(**PANEL, boxes=boxes, devices=devices, cables=cables)


def same_wall(number: int = 600, kind: str = "interior") -> Document:
    one = wall([0, 0], [300, 0], kind)
    rooms = {"r": {"level": "m", "uses": ["living"], "outline": ring(0, 3, 300, 300)}}
    return house(walls={f"w{n}": one for n in range(number)}, rooms=rooms)


def same_railing(number: int = 600) -> Document:
    return same_wall(number, "railing")


def same_room(number: int = 600) -> Document:
    return house(
        **{
            **shell(300, 300),
            "rooms": {f"r{n}": {"level": "m", "uses": ["living"], "outline": ring(0, 0, 300, 300)} for n in range(number)},
        }
    )


def same_counter(number: int = 600) -> Document:
    one = {
        "room": "r",
        "kind": "wall",
        "back": [[0, 0], [300, 0]],
        "facing": "left",
        "depth": 25,
        "height": 36,
        "has_top": True,
    }
    return house(**shell(300, 300, "kitchen"), counters={f"c{n}": one for n in range(number)})


def same_island(number: int = 300) -> Document:
    one = {"room": "r", "kind": "island", "outline": ring(60, 60, 240, 120), "height": 36, "has_top": True}
    return house(**shell(300, 300, "kitchen"), counters={f"c{n}": one for n in range(number)})


def empty_circuits(number: int = 24_000) -> Document:
    return house(panels={"p": {"kind": "service"}}, circuits={f"c{n}": {} for n in range(number)})


def circuits_of_a_panel(number: int = 3000) -> Document:
    return house(panels={"p": {"kind": "service"}}, circuits={f"c{n}": circuit(position=[n % 40 + 1]) for n in range(number)})


def island_of_the_largest() -> Document:
    island = {"room": "r", "kind": "island", "outline": ring(10, 10, WIDE - 10, WIDE - 10), "height": 36, "has_top": True}
    plan = house(**shell(WIDE, WIDE, "kitchen"), counters={"i": island})
    plan["basis"]["edition"] = "2020"
    return plan


def counter_of_the_largest() -> Document:
    top = {
        "room": "r",
        "kind": "wall",
        "back": [[0, 0], [WIDE, 0]],
        "facing": "left",
        "depth": 25,
        "height": 36,
        "has_top": True,
    }
    return house(**shell(WIDE, WIDE, "kitchen"), counters={"c": top})


def room_of_the_largest() -> Document:
    return house(**shell(WIDE, WIDE))


def bays_of_a_garage(number: int = 500) -> Document:
    parts = shell(use="garage")
    parts["rooms"]["r"] |= {"vehicle_bays": 20, "attached": True}
    openings = {
        f"o{n}": {"wall": "w0", "along": n * 7, "width": 6, "kind": "vehicle_door", "sill": 0, "head": 84}
        for n in range(number)
    }
    devices = {f"d{n}": receptacle(5 + n * 7) for n in range(number)}
    return house(**parts, **PANEL, openings=openings, devices=devices)


def windows_of_a_wall(number: int = 1500) -> Document:
    openings = {
        f"o{n}": {"wall": "w0", "along": n * WIDE / number, "width": 1, "kind": "window", "sill": 40, "head": 60}
        for n in range(number)
    }
    return house(**shell(), openings=openings)


def lights_of_a_room(number: int = 2000) -> Document:
    kinds = ("luminaire", "smoke_alarm", "fan", "luminaire")
    devices = {
        f"d{n}": {"kind": kinds[n % 4], "at": {"room": "r", "point": [10 + n % 60 * 50, 10 + n // 60 * 10], "height": 96}}
        for n in range(number)
    }
    return house(**shell(use="bedroom"), devices=devices)


def fixtures_of_a_bath(number: int = 400) -> Document:
    kinds = ("tub", "basin", "shower", "toilet")
    fixtures = {
        f"f{n}": {
            "room": "r",
            "kind": kinds[n % 4],
            "outline": ring(n % 40 * 80, n // 40 * 40, n % 40 * 80 + 60, n // 40 * 40 + 30),
        }
        for n in range(number)
    }
    devices = {f"d{n}": receptacle(5 + n * 8) for n in range(number)}
    return house(**shell(use="bathroom"), **PANEL, fixtures=fixtures, devices=devices)


def appliances_of_a_circuit(number: int = 1000) -> Document:
    kinds = ("refrigerator", "dishwasher", "range", "water_heater", "clothes_dryer", "evse", "furnace", "air_conditioner")
    appliances = {
        f"a{n}": {
            "kind": kinds[n % 8],
            "room": "r",
            "circuit": "c",
            "power": 1500,
            "volts": 240,
            "fastened": True,
            "connection": "cord",
        }
        for n in range(number)
    }
    return house(**shell(use="kitchen"), **PANEL, appliances=appliances)


def feeders_in_a_row(number: int = 500) -> Document:
    panels = {f"p{n}": {"kind": "subpanel", "supply": f"s{n}"} for n in range(number)}
    supplies = {f"s{n}": {"kind": "feeder", "starts_at": f"p{n - 1}", "voltage": "120/240"} for n in range(1, number)}
    supplies["s0"] = {"kind": "service", "voltage": "120/240"}
    return house(supplies=supplies, panels=panels, circuits={"c": circuit(panel=f"p{number - 1}")})


def multiwires(number: int = 1000) -> Document:
    circuits = {f"c{n}": circuit(legs=["A"], multiwire={"partner": f"c{(n + 1) % number}"}) for n in range(number)}
    devices = {
        f"d{n}": {"kind": "receptacle", "circuit": f"c{n}", "second_circuit": f"c{(n + 7) % number}", "box": "b"}
        for n in range(number)
    }
    return house(panels={"p": {"kind": "service"}}, circuits=circuits, boxes={"b": {}}, devices=devices)


def bundled_cables(number: int = 400) -> Document:
    route = [
        {
            "level": "m",
            "points": [[0, 0], [300, 0]],
            "heights": [96, 96],
            "how": "along_member",
            "bundle": "x",
            "bundled_length": 300,
        }
    ]
    cables = {f"c{n}": cable({"panel": "p"}, {"box": "b"}, circuit="c", route=route) for n in range(number)}
    return house(**PANEL, boxes={"b": {}}, cables=cables)


def routes_of_many_points(number: int = 100) -> Document:
    points = [[n * 10, n % 2 * 10] for n in range(200)]
    route = [{"level": "m", "points": points, "heights": [96] * 200, "how": "bored"}]
    cables = {f"c{n}": cable({"panel": "p"}, {"box": "b"}, circuit="c", route=route) for n in range(number)}
    return house(**shell(), **PANEL, boxes={"b": {}}, cables=cables)


def levels_and_stairs(number: int = 1000) -> Document:
    levels = {f"m{n}": {"kind": "storey", "elevation": n * 3} for n in range(number)}
    stairs = {
        f"s{n}": {"lower": f"m{n}", "upper": f"m{n + 1}", "kind": "stair", "risers": 14, "outline": ring(0, 0, 36, 120)}
        for n in range(number - 1)
    }
    rooms = {f"r{n}": {"level": f"m{n}", "uses": ["hallway"], "outline": ring(0, 0, 200, 200)} for n in range(number)}
    return house(levels=levels) | {"stairs": stairs, "rooms": rooms, "levels": levels}


def suppressions(number: int = 5000) -> Document:
    said = {"rule": "wall-space", "part": "/rooms/r", "reason": "x", "accepted_by": "y"}
    return house(**shell(), suppressions={f"s{n}": said for n in range(number)})


PLANS: dict[str, Callable[..., Document]] = {
    each.__name__: each
    for each in (
        devices_on_a_wall,
        cables_in_a_box,
        cables_between_two_boxes,
        controls_of_the_same,
        switches_in_a_box,
        comb_of_jogs,
        maze_of_rooms,
        open_maze,
        chain_of_gfcis,
        unsaid_gfcis,
        chain_of_boxes,
        same_wall,
        same_railing,
        same_room,
        same_counter,
        same_island,
        empty_circuits,
        circuits_of_a_panel,
        island_of_the_largest,
        counter_of_the_largest,
        room_of_the_largest,
        bays_of_a_garage,
        windows_of_a_wall,
        lights_of_a_room,
        fixtures_of_a_bath,
        appliances_of_a_circuit,
        feeders_in_a_row,
        multiwires,
        bundled_cables,
        routes_of_many_points,
        levels_and_stairs,
        suppressions,
    )
}


def main(arguments: list[str]) -> None:
    collector.collect_seldom()  # as the service and the command line do
    names = [each for each in arguments if not each.startswith("-")] or list(PLANS)
    example = json.loads(files("nailplate").joinpath("examples", f"{ORDINARY}.json").read_text(encoding="utf-8"))
    measured(example)
    size, reading, checking, steps, _ = measured(example)
    ordinary = (reading + checking) / size
    print(f"{ORDINARY:26} {size:9} bytes  read {reading:6.2f} s  check {checking:6.2f} s  {steps:8} steps", flush=True)
    for name in names:
        if "--profile" in arguments:
            profiled(PLANS[name]())
        size, reading, checking, steps, said = measured(PLANS[name]())
        times = (reading + checking) / size / ordinary
        each = checking / max(steps, 1) * 1e6
        print(
            f"{name:26} {size:9} bytes  read {reading:6.2f} s  check {checking:6.2f} s  {steps:8} steps  x{times:6.1f}  {each:6.1f} us  {said}",
            flush=True,
        )


def measured(document: Document) -> tuple[int, float, float, int, str]:
    """Bytes, seconds of reading and of checking, steps, and how it ended."""
    source = json.dumps(document).encode()
    start = process_time()
    try:
        plan = read_plan(source)
    except PlanRefused as refused:
        return len(source), process_time() - start, 0.0, 0, f"refused: {refused}"[:90]
    read = process_time()
    meter = Meter(BUDGET)
    said = ended(plan, meter)
    return len(source), read - start, process_time() - read, meter.spent, said


def ended(plan: Plan, meter: Meter) -> str:
    """How the check of a plan ended; it pays to ``meter``."""
    try:
        with metered(meter):
            report = check(plan, catalog(), Options(budget=None))
    except OverBudget as over:
        return f"over budget at {over.doing} {over.part}"
    crashed = [each.rule for each in report.coverage.rules if each.crashed]
    return f"{len(report.findings)} findings" + (f", crashed: {crashed}" if crashed else "")


def profiled(document: Document) -> None:
    profile = cProfile.Profile()
    profile.runcall(ended, read_plan(json.dumps(document).encode()), Meter(BUDGET))
    pstats.Stats(profile).sort_stats("tottime").print_stats(18)


def documents() -> Iterator[tuple[str, Document]]:
    """Every dense plan with its name."""
    for name, build in PLANS.items():
        yield name, build()


if __name__ == "__main__":
    main(sys.argv[1:])
