"""What a change of a plan changes: the window that was forgotten, a wire that was resized, another edition."""

import copy
from typing import Any

import jsonpatch
import jsonschema
import pytest

from houses import as_written
from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.codes import edition
from nailplate.codes.comparing import compare
from nailplate.render import comparison_page
from nailplate.review import Options
from nailplate.review.comparing import Comparison, compared
from nailplate.wire import comparison_schema, comparison_value, read_plan_value


def house(name: str = "tamarack-heron") -> Any:
    return whole_house(name)


PLANTED = as_written("tamarack-heron.faults")["faults"][:6]


def difference(old: Any, new: Any, most: int = 1000) -> Comparison:
    return compared(read_plan_value(old), read_plan_value(new), catalog(), Options(max_findings=most))


LEVEL = {"m": {"kind": "storey", "elevation": 0, "ceiling": {"height": 96}}}
WALL = {"s": {"level": "m", "from": [0, 0], "to": [240, 0], "kind": "exterior", "thickness": 5, "height": 96}}
ROOM = {"r": {"level": "m", "uses": ["living"], "outline": [[0, 2.5], [240, 2.5], [240, 177.5], [0, 177.5]]}}
BOXES = {name: {"at": {"wall": "s", "along": at, "height": 16, "side": "left"}} for name, at in (("a", 60), ("b", 180))}
CABLE = {"k": {"label": "Along the front", "ends": [{"box": "a"}, {"box": "b"}]}}
SMALL: dict[str, Any] = {
    "plan_format": 1, "name": "small", "basis": {"edition": "2023"},
    "levels": LEVEL, "walls": WALL, "rooms": ROOM, "openings": {}, "boxes": BOXES, "cables": CABLE,
}  # fmt: skip
WINDOW = {"wall": "s", "along": 100, "width": 40, "sill": 6, "head": 80, "kind": "fixed_glass"}


def test_the_forgotten_window_lengthens_the_cable_that_has_to_go_around_it() -> None:
    found = difference(SMALL, {**SMALL, "openings": {"front": WINDOW}})
    assert [(each.at, each.change) for each in found.parts] == [("/openings/front", "added")]
    (cable,) = found.cables
    assert cable.before is not None
    assert cable.after is not None
    assert (cable.name, cable.derived) == ("'Along the front'", True)
    assert (cable.before.value, cable.after.value) == (140, 166), "under the glass at 3 in, down from 16 in and up again"


@pytest.mark.parametrize("fault", PLANTED, ids=[each["finds"]["rule"] for each in PLANTED])
def test_a_planted_fault_is_the_one_finding_that_is_new_and_gone_again_when_it_is_corrected(fault: Any) -> None:
    sound = as_written("tamarack-heron")
    faulty = jsonpatch.apply_patch(sound, fault["patch"])
    found, back = difference(sound, faulty), difference(faulty, sound)
    expected = [(fault["finds"]["rule"], fault["finds"]["at"])]
    assert [(each.rule, each.where.pointer) for each in found.added] == expected
    assert [(each.rule, each.where.pointer) for each in back.gone] == expected
    assert not found.gone
    assert not back.added
    assert found.parts


def test_same_plan_changes_nothing() -> None:
    found = difference(house(), house())
    assert comparison_value(found) == {
        **comparison_value(found), "added": [], "gone": [], "changed": [], "parts": [], "boxes": [], "cables": [], "loads": [], "provisions": [],
    }  # fmt: skip


def test_a_part_changed_names_its_fields_and_what_follows() -> None:
    old = house()
    new = copy.deepcopy(old)
    name = next(key for key, cable in new["cables"].items() if cable["size"] == "14 AWG" and "box" in cable["ends"][0])
    new["cables"][name] |= {"size": "12 AWG", "length": new["cables"][name]["length"] + 24}
    found = difference(old, new)
    assert [(each.at, each.change, each.fields) for each in found.parts] == [(f"/cables/{name}", "changed", ("length", "size"))]
    assert [each.at for each in found.cables] == [f"/cables/{name}"]
    assert found.boxes, "its boxes hold larger conductors"
    assert all(each.after.value > each.before.value for each in found.boxes if each.after and each.before)


def test_a_larger_appliance_changes_the_load() -> None:
    old = house()
    new = copy.deepcopy(old)
    heater = next(each for each in new["appliances"].values() if each["kind"] == "water_heater")
    heater |= {"power": 9000, "current": 37.5}
    found = difference(old, new)
    assert any("standard" in each.what for each in found.loads)
    assert any(each.what.startswith("leg") for each in found.loads)


def test_defaults_written_into_their_parts_touch_none() -> None:
    thin = {**SMALL, "defaults": {"boxes": {"depth": 2.5}}}
    full = {**SMALL, "boxes": {key: {**box, "depth": "2 1/2 in"} for key, box in BOXES.items()}}
    assert not difference(thin, full).parts


def test_two_editions_of_one_plan_name_what_the_code_changed() -> None:
    old = house()
    new = {**old, "basis": {**old["basis"], "edition": "2017"}}
    found = difference(old, new)
    assert (found.old.edition, found.new.edition) == ("2023", "2017")
    assert len(found.provisions) == len(compare(edition("2023"), edition("2017"))) > 0
    assert "## What the code changed" in comparison_page(found)


def test_comparisons_fit_their_schema_and_long_lists_are_cut() -> None:
    old = house()
    new = copy.deepcopy(old)
    for box in new["boxes"].values():
        box.pop("volume", None)
        box["trade_size"] = "3 x 2 x 1-1/2 device"
    found = difference(old, new, most=3)
    assert len(found.added) <= 3
    assert found.left_out > 0
    jsonschema.Draft202012Validator(comparison_schema()).validate(comparison_value(found))
    assert comparison_page(found).startswith("# ")
