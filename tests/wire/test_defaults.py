"""The author's defaults: taken where a part says nothing, told in the report, refused as parts are, and never a difference."""

import copy
from typing import Any

import jsonpatch
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from houses import house as whole_house
from nailplate.catalog import catalog
from nailplate.plan import PlanRefused
from nailplate.render import html, markdown
from nailplate.review import check
from nailplate.wire import read_plan_value, report_value
from nailplate.wire.compound_fields import Detail
from nailplate.wire.plan_schema import default_sections

HEAD: dict[str, Any] = {"plan_format": 1, "name": "small", "basis": {"edition": "2023"}}


def faults(**more: Any) -> list[tuple[str, str, str]]:
    with pytest.raises(PlanRefused) as refused:
        read_plan_value({**HEAD, **more})
    return [(str(fault.pointer), fault.code.value, fault.detail) for fault in refused.value.faults]


def test_own_fact_goes_before_kind_and_kind_before_all() -> None:
    defaults = {"devices": {"rating": 15, "receptacle": {"rating": 20}}}
    devices = {"a": {"kind": "switch"}, "b": {"kind": "receptacle"}, "c": {"kind": "receptacle", "rating": 30}}
    plan = read_plan_value({**HEAD, "defaults": defaults, "devices": devices})
    assert [float(device.rating) for device in plan.devices.values()] == [15, 20, 30]
    assert [device.where("rating") for device in plan.devices.values()] == [
        "/defaults/devices/rating", "/defaults/devices/receptacle/rating", "/devices/c/rating",
    ]  # fmt: skip


def test_of_two_names_that_a_part_has_the_first_goes_before() -> None:
    """A joist's distance stands whichever way the cable runs at it."""
    segments = {"edge_distance": 1, "bored": {"edge_distance": 2, "plates": "none"}, "2x8": {"edge_distance": 3}}
    route = [{"how": "bored", "member": "2x8"}, {"how": "bored", "member": "2x4"}, {"how": "along_member", "member": "2x4"}]
    cables = {"k": {"ends": [{"box": "a"}, {"box": "b"}], "route": route}}
    plan = read_plan_value({**HEAD, "boxes": {"a": {}, "b": {}}, "cables": cables, "defaults": {"segments": segments}})
    assert [float(each.edge_distance) for each in plan.cables["k"].route] == [3, 2, 1]
    assert [each.knows("plates") for each in plan.cables["k"].route] == [True, True, False]


def test_defaults_are_in_the_unit_of_the_plan() -> None:
    plan = read_plan_value({**HEAD, "units": {"length": "mm"}, "defaults": {"boxes": {"depth": 50.8}}, "boxes": {"b": {}}})
    assert plan.boxes["b"].depth == pytest.approx(2)


def test_objects_are_completed_member_by_member() -> None:
    defaults = {"circuits": {"breaker": {"rating": 20, "poles": 1}, "laundry": {"breaker": {"rating": 30}}}}
    circuits = {"a": {"breaker": {"poles": 2}}, "b": {"purpose": "laundry"}}
    plan = read_plan_value({**HEAD, "defaults": defaults, "circuits": circuits})
    one, other = (circuit.breaker for circuit in plan.circuits.values())
    assert [float(one.rating), one.poles, float(other.rating), other.poles] == [20, 2, 30, 1]
    assert other.where("rating") == "/defaults/circuits/laundry/breaker/rating"
    assert other.where("protects") == "/circuits/b/breaker/protects", "what is missing is missing of the part"


def test_a_place_is_each_parts_own_and_its_height_may_be_a_default() -> None:
    walls = {"w": {"level": "m", "from": [0, 0], "to": [99, 0], "kind": "interior"}}
    drawn = {"levels": {"m": {"kind": "storey"}}, "walls": walls, "boxes": {"a": {"at": {"wall": "w", "along": 9}}, "b": {}}}
    plan = read_plan_value({**HEAD, **drawn, "defaults": {"boxes": {"at": {"height": 16}}}})
    assert float(plan.boxes["a"].at.height) == 16
    assert not plan.boxes["b"].knows("at")


def test_needed_facts_may_be_defaults() -> None:
    drawn = {"levels": {"m": {}}, "walls": {"w": {"from": [0, 0], "to": [9, 0]}}}
    plan = read_plan_value(
        {**HEAD, **drawn, "defaults": {"levels": {"kind": "storey"}, "walls": {"level": "m", "kind": "half"}}}
    )
    assert (plan.levels["m"].kind.value, plan.walls["w"].level, plan.walls["w"].kind.value) == ("storey", "m", "half")
    assert faults(**drawn, defaults={"walls": {"level": "m"}}) == [
        ("/levels/m/kind", "missing-field", "this must be stated"),
        ("/walls/w/kind", "missing-field", "this must be stated"),
    ]


def test_needed_facts_of_objects_may_be_defaults_and_are_asked_for_elsewhere() -> None:
    defaults = {"devices": {"luminaire": {"fixture_wires": {"size": "18 AWG"}}}}
    devices = {
        "lamp": {"kind": "luminaire", "fixture_wires": {"count": 2}},
        "fan": {"kind": "fan", "fixture_wires": {"count": 3}},
    }
    lamp = {"lamp": devices["lamp"]}
    plan = read_plan_value({**HEAD, "defaults": defaults, "devices": lamp})
    assert (plan.devices["lamp"].fixture_wires.size, plan.devices["lamp"].fixture_wires.count) == ("18 AWG", 2)
    assert faults(defaults=defaults, devices=devices) == [
        ("/devices/fan/fixture_wires/size", "missing-field", "this must be stated"),
    ]


WRONG = [
    ({"devics": {}}, "/defaults/devics", "unknown-field", "did you mean 'devices'?"),
    ({"devices": {"recptacle": {}}}, "/defaults/devices/recptacle", "unknown-field", "did you mean 'receptacle'?"),
    ({"boxes": {"dept": 2}}, "/defaults/boxes/dept", "unknown-field", "did you mean 'depth'?"),
    (
        {"devices": {"receptacle": {"tamper_resistent": True}}},
        "/defaults/devices/receptacle/tamper_resistent", "unknown-field", "did you mean 'tamper_resistant'?",
    ),
    ({"walls": {"framing": {"member": "2x5"}}}, "/defaults/walls/framing/member", "bad-choice", "did you mean"),
    ({"boxes": {"depth": True}}, "/defaults/boxes/depth", "wrong-type", "true was found"),
    ({"boxes": {"label": "x"}}, "/defaults/boxes/label", "unknown-field", "each part states its own"),
    ({"walls": {"level": "mian"}}, "/defaults/walls/level", "dangling-reference", "did you mean 'main'?"),
    ({"devices": {"switch": {"circuit": "nowhere"}}}, "/defaults/devices/switch/circuit", "dangling-reference", "nowhere"),
    ({"devices": {"switch": 3}}, "/defaults/devices/switch", "wrong-type", "an object was wanted"),
    ([], "/defaults", "wrong-type", "a list was found"),
]  # fmt: skip


@pytest.mark.parametrize(("defaults", "pointer", "code", "words"), WRONG, ids=[each[1] for each in WRONG])
def test_wrong_defaults_are_faults_as_in_parts(defaults: Any, pointer: str, code: str, words: str) -> None:
    ((where, kind, detail),) = faults(levels={"main": {"kind": "storey"}}, defaults=defaults)
    assert (where, kind) == (pointer, code)
    assert words in detail


def test_a_name_that_is_both_a_kind_and_a_fact_is_told_by_its_value() -> None:
    for shape in default_sections().values():
        both = set(shape.keys) & set(shape.values)
        assert not [each for each in both if isinstance(shape.schema.fields[each], Detail)], (
            "an object is for parts of the kind"
        )
    drawn = {"levels": {"m": {"kind": "storey"}}, "boxes": {"a": {}, "b": {}}}
    route = [{"how": "raceway"}, {"how": "bored"}]
    cables = {"k": {"ends": [{"box": "a"}, {"box": "b"}], "route": route}}
    defaults = {"segments": {"raceway": {"level": "m"}, "exposure": "dry"}}
    first, second = read_plan_value({**HEAD, **drawn, "cables": cables, "defaults": defaults}).cables["k"].route
    assert (first.knows("level"), second.knows("level")) == (True, False)


def test_report_lists_each_default_and_how_many_parts_took_it() -> None:
    plan = {**HEAD, "defaults": {"boxes": {"gangs": 1, "depth": "2.5 in"}}, "boxes": {"a": {}, "b": {"gangs": 2}}}
    report = check(read_plan_value(plan), catalog())
    assert report_value(report)["defaults"] == [
        {"pointer": "/defaults/boxes/gangs", "value": 1, "parts": 1},
        {"pointer": "/defaults/boxes/depth", "value": "2.5 in", "parts": 2},
    ]
    assert "- `/defaults/boxes/depth`: 2.5 in (2 parts)" in markdown(report)
    assert "<li>/defaults/boxes/depth: 2.5 in (2 parts)</li>" in html(report)


def test_remedy_states_its_fact_of_the_part_and_leaves_the_default() -> None:
    cable = {"type": "NM-B", "size": "14 AWG", "insulated": 2, "grounding": "14 AWG", "ends": [{"box": "a"}, {"box": "b"}]}
    boxes = {"a": {"clamps": "none"}, "b": {"volume": "90 in3", "clamps": "none"}}
    cables = {f"c{number}": cable for number in range(6)}
    plan = {**HEAD, "defaults": {"boxes": {"volume": "10 in3"}}, "boxes": boxes, "cables": cables}
    finding = next(each for each in check(read_plan_value(plan), catalog()).findings if each.rule == "box-volume")
    patch = [{"op": each.op, "path": each.path, "value": each.value} for each in finding.remedies[0].patch]
    assert [each["path"] for each in patch] == ["/boxes/a/volume"]
    mended = jsonpatch.apply_patch(plan, patch)
    assert mended["defaults"] == plan["defaults"]
    assert not [each for each in check(read_plan_value(mended), catalog()).findings if each.fingerprint == finding.fingerprint]


def test_remedy_of_an_object_that_is_a_default_whole_applies() -> None:
    wire = {"size": "12 AWG", "material": "copper", "type": "NM-B", "insulation": "90 C", "terminations": "60 C"}
    defaults = {"circuits": {"breaker": {"rating": 40, "poles": 1}, "conductor": wire}}
    plan = {**HEAD, "defaults": defaults, "circuits": {"a": {"voltage": 120}}}
    found = [each for each in check(read_plan_value(plan), catalog()).findings if each.rule == "conductor-protection"]
    patches = [remedy.patch for each in found for remedy in each.remedies if remedy.patch]
    assert patches
    for patch in patches:
        mended = jsonpatch.apply_patch(plan, [{"op": each.op, "path": each.path, "value": each.value} for each in patch])
        again = check(read_plan_value(mended), catalog()).findings
        assert not [each for each in again if each.rule == "conductor-protection" and each.outcome == "violation"]


HOUSE: Any = whole_house("tamarack-wren")
SAID = [
    ({"boxes": {"material": "nonmetallic", "gangs": 1}}, ("boxes", None, "gangs", 1)),
    ({"devices": {"receptacle": {"tamper_resistant": True}}}, ("devices", "receptacle", "tamper_resistant", True)),
    ({"cables": {"NM-B": {"material": "copper"}}}, ("cables", "NM-B", "material", "copper")),
    ({"appliances": {"continuous": False}}, ("appliances", None, "continuous", False)),
]


@settings(max_examples=6, deadline=None)
@given(choice=st.sampled_from(SAID), share=st.integers(min_value=1, max_value=4))
def test_adding_a_fact_that_equals_a_default_changes_no_finding(choice: Any, share: int) -> None:
    """The house with a fact taken out of some parts and said as a default, against the same with the fact added to those parts."""
    defaults, (name, kind, fact, value) = choice
    thin = {**copy.deepcopy(HOUSE), "defaults": defaults}
    field = {"cables": "type"}.get(name, "kind")
    concerned = [part for part in thin[name].values() if kind is None or part.get(field) == kind][::share]
    for part in concerned:
        part.pop(fact, None)
    said = copy.deepcopy(thin)
    for part, other in zip(thin[name].values(), said[name].values(), strict=True):
        if fact not in part and (kind is None or part.get(field) == kind):
            other[fact] = value
    assert found(thin) == found(said)


def found(plan: Any) -> list[Any]:
    report = check(read_plan_value(plan), catalog())
    return [(each.fingerprint, each.outcome, each.message, each.needs) for each in (*report.findings, *report.accepted)]
