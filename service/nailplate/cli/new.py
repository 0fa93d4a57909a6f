"""``new``: a starter plan to draw on from: one small house at its layout, with nothing electrical in it yet."""

import json
from typing import Any, Final

import click

from nailplate.cli.exits import Exit

STARTER: Final[dict[str, Any]] = {
    "$schema": "plan-1.json",
    "plan_format": 1,
    "name": "Larkspur, a starter cabin of 24 ft x 16 ft",
    "basis": {
        "edition": "2023",
        "regime": "dwelling",
        "provisions": ["living", "sleeping", "cooking", "sanitation"],
        "on_wheels": False,
    },
    "stage": "layout",
    "units": {"length": "in"},
    "levels": {"main": {"kind": "storey", "elevation": 0, "ceiling": {"height": "8 ft"}}},
    "walls": {
        "south": {"level": "main", "kind": "exterior", "from": [0, 0], "to": [288, 0], "thickness": 6, "face": "front"},
        "east": {"level": "main", "kind": "exterior", "from": [288, 0], "to": [288, 192], "thickness": 6},
        "north": {"level": "main", "kind": "exterior", "from": [288, 192], "to": [0, 192], "thickness": 6, "face": "back"},
        "west": {"level": "main", "kind": "exterior", "from": [0, 192], "to": [0, 0], "thickness": 6},
        "bath-side": {"level": "main", "kind": "interior", "from": [204, 0], "to": [204, 192], "thickness": 4},
        "bath-end": {"level": "main", "kind": "interior", "from": [204, 84], "to": [288, 84], "thickness": 4},
    },
    "openings": {
        "entry": {"wall": "south", "kind": "door", "along": 84, "width": 36, "sill": 0, "head": 80},
        "view": {"wall": "west", "kind": "window", "along": 60, "width": 72, "sill": 30, "head": 80},
        "over-sink": {"wall": "north", "kind": "window", "along": 174, "width": 36, "sill": 44, "head": 80},
        "bath-door": {"wall": "bath-side", "kind": "door", "along": 36, "width": 30, "sill": 0, "head": 80},
        "bedroom-door": {"wall": "bath-side", "kind": "door", "along": 108, "width": 30, "sill": 0, "head": 80},
        "bedroom-window": {"wall": "east", "kind": "window", "along": 120, "width": 36, "sill": 30, "head": 80},
    },
    "rooms": {
        "great-room": {
            "level": "main",
            "outline": [[3, 3], [202, 3], [202, 189], [3, 189]],
            "uses": ["kitchen", "living", "dining"],
        },
        "bath": {"level": "main", "outline": [[206, 3], [285, 3], [285, 82], [206, 82]], "uses": ["bathroom"]},
        "bedroom": {"level": "main", "outline": [[206, 86], [285, 86], [285, 189], [206, 189]], "uses": ["bedroom"]},
    },
    "counters": {
        "kitchen": {
            "room": "great-room",
            "kind": "wall",
            "back": [[60, 189], [180, 189]],
            "depth": 25,
            "height": 36,
            "has_top": True,
        }
    },
    "fixtures": {
        "sink": {
            "room": "great-room",
            "kind": "kitchen_sink",
            "counter": "kitchen",
            "outline": [[84, 167], [108, 167], [108, 185], [84, 185]],
            "bowl": [[86, 169], [106, 169], [106, 183], [86, 183]],
            "depth_behind": 4,
        }
    },
    "needs": {
        "kettle": {"what": "kettle", "where": {"room": "great-room", "counter": "kitchen"}, "cord_length": 30, "power": 1500},
        "computer": {"what": "computer", "where": {"room": "bedroom"}, "cord_length": 60, "power": 200},
    },
}


@click.command("new")
@click.argument("file", type=click.Path(dir_okay=False, allow_dash=True), default="-")
@click.option("--force", is_flag=True, help="Write over a file that is there.")
def command(file: str, *, force: bool) -> int:
    """Write a starter plan to FILE (standard output without one).

    `nailplate schema > plan-1.json` puts the schema beside it, by which an editor completes and explains every field; `nailplate
    check FILE` then tells what the house needs.
    """
    text = json.dumps(STARTER, indent=2, ensure_ascii=False) + "\n"
    if file == "-":
        click.echo(text, nl=False)
        return Exit.CLEAN
    try:
        with open(file, "w" if force else "x", encoding="utf-8") as out:
            out.write(text)
    except FileExistsError:
        raise click.UsageError(f"{file} is there already; --force writes over it") from None
    except OSError as error:
        raise click.UsageError(f"{file} cannot be written: {error.strerror}") from None
    click.echo(f"{file} is written.", err=True)
    return Exit.CLEAN
