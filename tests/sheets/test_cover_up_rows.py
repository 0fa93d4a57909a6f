"""Rows of the sheet before cover-up, read against the boxes of the example houses as JSON."""

import pytest

from sheets.houses import HOUSES, house
from sheets.tables_read import of_house, pointers, rows


def _items(name: str) -> dict[str, list[str]]:
    sheet = of_house(name, "cover-up")
    found: dict[str, list[str]] = {}
    for pointer, row in zip(pointers(sheet, "Items", 1), rows(sheet, "Items"), strict=True):
        found.setdefault(pointer or "", []).append(row["What"])
    return found


@pytest.mark.parametrize("name", HOUSES)
def test_receptacles_alone_are_told_to_be_spaced_again(name: str) -> None:
    value, items = house(name), _items(name)
    with_receptacle = {each.get("box") for each in value["devices"].values() if each["kind"] == "receptacle"}
    for key in value["boxes"]:
        told = [each for each in items[f"/boxes/{key}"] if each.startswith("At the stud nearest")]
        assert all(("spacing of receptacles" in each) is (key in with_receptacle) for each in told)


@pytest.mark.parametrize("name", HOUSES)
def test_a_box_on_a_brace_is_tugged_with_its_brace(name: str) -> None:
    value, items = house(name), _items(name)
    for key, box in value["boxes"].items():
        told = [each for each in items[f"/boxes/{key}"] if each.startswith("Tug")]
        assert all(("its brace, the brace to the framing" in each) is (box.get("fastened") == "brace") for each in told)


@pytest.mark.parametrize("name", HOUSES)
def test_the_cable_that_a_gfci_device_feeds_is_marked_while_it_can_be_told(name: str) -> None:
    value, items = house(name), _items(name)
    sources = {each["feed_through_source"] for each in value["devices"].values() if "feed_through_source" in each}
    marked = {key for key, told in items.items() if any(each.startswith("Mark as LOAD: ") for each in told)}
    assert marked == {f"/boxes/{value['devices'][each]['box']}" for each in sources}


def test_a_box_outdoors_is_measured_from_what_is_under_it() -> None:
    """As the plan format has it: the height of what hangs outside counts from the ground or deck there, not from the floor inside."""
    items = _items("tamarack-heron")
    assert 'Center 36" above the floor or ground of Back yard.' in items["/boxes/out-back"]
    assert 'Center 18" above the floor or ground of Front porch, roofed.' in items["/boxes/porch"]
    assert 'Center 48" above the finished floor.' in items["/boxes/fridge"]


def test_a_line_that_crosses_no_stud_is_not_told_to_cross_studs() -> None:
    """Both level runs in the wall between hall and laundry are 2 in long, within one bay."""
    assert not any("cross studs" in each for each in _items("tamarack-heron")["/walls/laundry-wall"])


def test_holes_in_plates_are_counted_as_holes() -> None:
    """The deck light's cable goes through the plates of osprey's back wall twice, up and down: 13 holes, 12 cables."""
    told = next(each for each in _items("tamarack-osprey")["/walls/north"] if "plates" in each)
    assert told == "13 holes for cables through plates: no sharp edge, and each is sealed with approved material (IRC R302.11)."


def test_what_passes_a_pull_box_is_looked_at_with_its_loop() -> None:
    """Osprey's conductors to the shed pass two boxes on their way: 16 in of each is left in the first, none in the second."""
    items, sheet = _items("tamarack-osprey"), rows(of_house("tamarack-osprey", "cover-up"), "Items")
    assert "/boxes/shed-pull-inside" in items
    told = {each["Where"]: each["What"] for each in sheet if "passes unbroken" in each["What"]}
    way = "27 from Panel in the garage to Receptacle beside the shed's door passes unbroken"
    assert told == {
        "Pull box in the garage, on the way to the shed": f'{way}, a loop of 16" left in the box.',
        "Pull box outside, on the way to the shed": f"{way}.",
    }


def test_a_box_that_conductors_pass_belongs_to_their_circuit() -> None:
    boxes = {each["Box"]: each["Circuits"] for each in rows(of_house("tamarack-osprey", "boxes"), "Boxes")}
    assert {boxes[each] for each in boxes if each.startswith("Pull box")} == {"27"}


def test_what_is_free_in_a_room_and_not_at_its_ceiling_is_measured_upward_too() -> None:
    items = _items("tamarack-osprey")
    assert items["/boxes/post-box"][0].endswith(' of Front yard and drive as drawn, 54" above the floor or ground there.')
    assert items["/boxes/island"][0].endswith(' of Kitchen as drawn, 35" above the floor or ground there.')
    assert not any("above" in each for each in items["/boxes/hall-light-1-box"])


@pytest.mark.parametrize("name", HOUSES)
def test_cable_to_a_device_without_a_box_is_looked_at_before_it_is_covered(name: str) -> None:
    """Fans, heaters and disconnects have wiring spaces of their own; a whip outdoors is in no wall."""
    value, items = house(name), _items(name)
    ends = {
        end["device"]
        for each in value["cables"].values()
        if each["type"] != "raceway"
        for end in each["ends"]
        if "device" in end
    }
    assert ends
    assert {f"/devices/{each}" for each in ends} == {each for each in items if each.startswith("/devices/")}
    for told in (items[f"/devices/{each}"] for each in ends):
        assert told[0].startswith("Center ")
        assert any("at its wiring space" in each for each in told)
        assert any(each.startswith("Each cable: ") for each in told)
