"""Every form of every sheet of tables: stamps and cautions in each, names inert in each, long ones cut with the whole in a title."""

import csv
import io
import json
import re
from html.parser import HTMLParser

import pytest

from nailplate.plan import PlanRefused, Pointer
from nailplate.render.tables import FORMS, with_findings
from nailplate.sheets.drawing import Findings, Mark, Stamp
from nailplate.sheets.orders import Order, OrderError
from nailplate.sheets.registry import TABLES
from nailplate.sheets.tables import SHEET_CAUTIONS
from nailplate.survey import Survey
from nailplate.wire import NotJson, read_plan
from sheets.houses import HOUSES, house, plan_of
from sheets.tables_read import document
from sheets.test_hostile_names import HOSTILE, plan_named

FORMULAS = ("=1+1", "+1", "-1", "@SUM(1)", "\t=1", " =1", "|calc", "%0A=1", '"=1', "＝1+1", "＠SUM(1)")
STEERING = re.compile(
    "[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff\ufffe\uffff]"
)
TAGS = {
    "html", "head", "meta", "title", "style", "body", "main", "section", "h1", "h2", "ul", "li", "div", "table", "caption", "thead",
    "tbody", "tr", "th", "td", "svg", "rect", "text", "line", "circle",
}  # fmt: skip


class Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.seen: list[tuple[str, dict[str, str | None]]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))


def named(name: str, sheet: str) -> dict[str, str]:
    """Every form of a sheet of a plan in which everything that takes a name has this one."""
    try:
        plan = read_plan(json.dumps(plan_named(name)).encode())
    except (NotJson, PlanRefused):
        plan = read_plan(json.dumps(plan_named("plain")).encode())
    made = document(plan, sheet, Stamp(name, "2023", name, ((name, name),), name, (name,)))
    return {media: write(made) for media, write in FORMS.items()}


@pytest.mark.parametrize("sheet", TABLES)
@pytest.mark.parametrize("name", [*HOSTILE, *FORMULAS])
def test_a_hostile_name_is_inert_in_every_form(name: str, sheet: str) -> None:
    forms = named(name, sheet)
    assert not any(STEERING.search(each) for each in forms.values())
    _assert_markup(forms["text/html"])
    for row in csv.reader(io.StringIO(forms["text/csv"])):
        assert not any(cell.lstrip().startswith(("=", "+", "-", "@", "|", "%", "＝", "＠")) for cell in row), row
    assert "<" not in re.sub(r"\\<", "", forms["text/markdown"])
    assert json.loads(forms["application/json"])["sheet"] == sheet


def _assert_markup(html: str) -> None:
    tags = Tags()
    tags.feed(html)
    for tag, attributes in tags.seen:
        assert tag in TAGS, tag
        assert not any(each.startswith("on") or each in ("style", "href", "src") for each in attributes), attributes


@pytest.mark.parametrize("sheet", TABLES)
def test_a_very_long_name_is_cut_and_its_whole_is_in_a_title(sheet: str) -> None:
    name = "Bedroom over the garage with the dormer " * 4 + "and the closet"
    forms = named(name, sheet)
    tags = Tags()
    tags.feed(forms["text/html"])
    titles = [attributes.get("title") or "" for _, attributes in tags.seen]
    if sheet != "take-off":  # it names kinds and no part
        assert any(name in each for each in titles)
        assert "…" in forms["text/markdown"]
        assert name in forms["text/csv"]
        assert name in forms["application/json"]


@pytest.mark.parametrize("sheet", TABLES)
def test_every_form_carries_the_stamp_and_the_cautions(sheet: str) -> None:
    made = document(
        plan_of("tamarack-wren"), sheet, Stamp("Wren", "2020", "d1ce", (("core", "7.1"),), "2026-05-04", ("A caution.",))
    )
    for media, write in FORMS.items():
        text = write(made).replace("\\", "")
        for told in ("d1ce", "NEC 2020", "core 7.1", "2026-05-04", "A caution.", "Turn off the power, lock it out"):
            assert told in text, (media, told)
    assert len(SHEET_CAUTIONS) == 4


def test_a_measure_is_a_number_in_csv_and_in_the_unit_of_the_plan_for_people() -> None:
    made = document(plan_of("tamarack-wren"), "boxes")
    rows = list(csv.DictReader(io.StringIO(FORMS["text/csv"](made))))
    boxes = {row["pointer"]: row for row in rows if row["table"] == "Boxes"}
    for key, box in house("tamarack-wren")["boxes"].items():
        assert float(boxes[f"/boxes/{key}"]["Height to center (in)"]) == pytest.approx(box["at"]["height"])
    metric = read_plan(json.dumps({**plan_named("x"), "units": {"length": "mm"}}).encode())
    assert " mm |" in FORMS["text/markdown"](document(metric, "boxes"))


def test_csv_has_as_many_cells_in_every_row() -> None:
    for sheet in TABLES:
        rows = list(csv.reader(io.StringIO(FORMS["text/csv"](document(plan_of("tamarack-osprey"), sheet)))))
        assert len({len(row) for row in rows}) == 1


def test_what_the_check_found_opens_every_sheet_of_a_plan_with_faults() -> None:
    plan = plan_of("tamarack-wren")
    marks = [
        Mark(1, "danger", open=False, words="w", pointers=(Pointer("/boxes"),)),
        Mark(2, "code", open=True, words="w", pointers=()),
    ]
    order = Order(Survey(plan), Stamp(plan.name, "2023"), "", {}, Findings(marks))
    made = with_findings(TABLES["cables"].make(order), order)
    assert "1 violation and 1 that could not be decided" in made.notes[0]
    clean = Order(Survey(plan), Stamp(plan.name, "2023"), "")
    assert with_findings(TABLES["cables"].make(clean), clean) == TABLES["cables"].make(clean)


def test_the_same_plan_gives_the_same_bytes() -> None:
    for sheet in ("boxes", "drilling", "wiring"):
        one, other = (document(plan_of("tamarack-heron"), sheet) for _ in range(2))
        assert FORMS["text/html"](one) == FORMS["text/html"](other)


def test_markdown_tells_a_cut_name_in_full_by_its_number() -> None:
    name = "Bedroom over the garage with the dormer " * 4 + "and the closet"
    text = named(name, "boxes")["text/markdown"].replace("\\", "")
    [number] = set(re.findall(r"Bedroom over the garage with the dormer Bedroom over the garage… \((\d+)\) \|", text))
    assert f"- ({number}) {name}\n" in text.partition("## Names in full")[2]


@pytest.mark.parametrize("waste", ["", "much", "-5%", "101%", "1e2", "=1", "10 20"])
def test_a_waste_that_is_no_percentage_is_refused(waste: str) -> None:
    with pytest.raises(OrderError, match="percentage") as refused:
        document(plan_of("tamarack-wren"), "take-off", waste=waste)
    assert refused.value.parameter == "waste"


@pytest.mark.parametrize("name", HOUSES)
def test_places_count_from_the_nearest_inside_corner(name: str) -> None:
    """Against the outlines of the rooms: no box of a house is farther from a corner than half the longest side of its room."""
    value = json.loads(FORMS["application/json"](document(plan_of(name), "boxes")))
    places = [
        row[7]
        for section in value["sections"]
        for table in section["tables"]
        if table["title"] == "Boxes"
        for row in table["rows"]
    ]
    assert len(places) == len(house(name)["boxes"])
    assert all("from" in each["text"] for each in places)


def test_a_box_is_measured_from_the_corner_that_a_tape_would_start_at() -> None:
    plan = {
        **plan_named("x"),
        "walls": {"w": {"level": "m", "kind": "interior", "from": [0, 0], "to": [200, 0], "thickness": 4, "label": "South"}},
        "rooms": {"r": {"level": "m", "uses": ["living"], "outline": [[10, 2], [190, 2], [190, 120], [10, 120]], "label": "R"}},
        "openings": {}, "counters": {}, "controls": {}, "cables": {}, "devices": {},
        "boxes": {
            "near-from": {"at": {"wall": "w", "along": 40, "height": 16, "side": "left"}, "label": "F"},
            "near-to": {"at": {"wall": "w", "along": 165, "height": 16, "side": "left"}, "label": "T"},
        },
    }  # fmt: skip
    text = FORMS["text/csv"](document(read_plan(json.dumps(plan).encode()), "boxes"))
    places = {row["pointer"]: row["Place"] for row in csv.DictReader(io.StringIO(text)) if row["table"] == "Boxes"}
    # Who stands in the room at y > 2 and looks at the wall has its from end at the right.
    assert places["/boxes/near-from"] == 'South, 30" from its right inside corner'
    assert places["/boxes/near-to"] == 'South, 25" from its left inside corner'


def _place_of(name: str, box: str) -> str:
    value = json.loads(FORMS["application/json"](document(plan_of(name), "boxes")))
    [place] = [
        row[7]["text"]
        for section in value["sections"]
        for table in section["tables"]
        if table["title"] == "Boxes"
        for row in table["rows"]
        if row[0]["pointer"] == f"/boxes/{box}"
    ]
    return str(place)


@pytest.mark.parametrize(
    ("name", "box", "told"),
    [
        # 110 in long, nothing stands at its east end, x 113.5: the box at 81.5 is 28.5 from it
        ("tamarack-heron", "kitchen-north", '28 1/2" from its right end'),
        # along 211.5 of 281, seen from the room; the east wall's face is at 277.5
        ("tamarack-heron", "living-south", '5\'-6" from its left inside corner'),
        # outdoors, along 251.5 of 281; the corner of the house is 3.5 past the end of the center line
        ("tamarack-heron", "out-front", '33" from its right outside corner (29 1/2" from its end as drawn)'),
        # the garage's front goes on in the same line: no corner, and the wall across it is named
        ("tamarack-osprey", "out-porch", "right end, on the center line of Between house and garage"),
        # the closet's front turns away from who stands in the bedroom
        ("tamarack-osprey", "bed-2-closet", '14 1/4" from its right outside corner (12" from its end as drawn)'),
    ],
)  # fmt: skip
def test_a_box_is_measured_from_what_stands_at_the_end_of_its_wall(name: str, box: str, told: str) -> None:
    assert told in _place_of(name, box)


@pytest.mark.parametrize(
    ("name", "box", "room"),
    [("tamarack-heron", "out-back", "Back yard"), ("tamarack-heron", "porch", "Front porch, roofed"), ("tamarack-osprey", "out-deck", "Back deck")],
)  # fmt: skip
def test_a_box_outdoors_is_listed_under_the_place_that_it_is_at(name: str, box: str, room: str) -> None:
    value = json.loads(FORMS["application/json"](document(plan_of(name), "boxes")))
    [title] = [
        section["title"]
        for section in value["sections"]
        for table in section["tables"]
        for row in table["rows"]
        if table["title"] == "Boxes" and row[0]["pointer"] == f"/boxes/{box}"
    ]
    assert (title["text"] if isinstance(title, dict) else title).startswith(room)
