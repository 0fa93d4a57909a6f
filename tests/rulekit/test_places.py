"""Several places judged by one rule, and one rule over several kinds of part: each place by itself, with its own name."""

import json
from collections.abc import Iterator

import pytest

from nailplate.catalog import Catalog
from nailplate.plan import Box, Circuit, Device, Panel, Plan, Pointer
from nailplate.review import check
from nailplate.rulekit import (
    Hazard,
    Job,
    Outcome,
    Pass,
    RulePack,
    Severity,
    Subject,
    Undetermined,
    Violation,
    at_place,
    each_of,
    rule,
)
from nailplate.wire import read_plan

PLAN = {
    "plan_format": 1,
    "name": "small",
    "basis": {"edition": "2023"},
    "circuits": {"c": {}},
    "boxes": {"deep": {"depth": "2 in"}, "flat": {"depth": "1/2 in"}, "unsaid": {}},
}
BOXES = [
    Box(Pointer(f"/boxes/{name}"), facts)
    for name, facts in (("deep", {"depth": 2.0}), ("flat", {"depth": 0.5}), ("unsaid", {}))
]


def judge(box: Box, least: float) -> Outcome:
    return Pass() if box.depth >= least else Violation("too flat")


def test_each_part_is_judged_by_itself_and_named() -> None:
    deep, flat, unsaid = each_of(BOXES, judge, 1.0)
    assert deep == Pass(facet="deep")
    assert flat == Violation("too flat", facet="flat", at=Pointer("/boxes/flat"))
    assert unsaid == Undetermined((Pointer("/boxes/unsaid/depth"),), facet="unsaid", at=Pointer("/boxes/unsaid"))


def test_an_outcome_keeps_the_name_it_states() -> None:
    def several(box: Box) -> Iterator[Outcome]:
        yield Violation("here", facet="lid", at=box.pointer / "access")
        yield Pass()

    lid, rest = each_of(BOXES[:1], several)
    assert lid == Violation("here", facet="lid", at=Pointer("/boxes/deep/access"))
    assert rest == Pass(facet="deep")


def test_a_place_of_the_judged_part_has_no_pointer_of_its_own() -> None:
    assert list(at_place("power", None, judge, BOXES[2], 1.0)) == [
        Undetermined((Pointer("/boxes/unsaid/depth"),), facet="power")
    ]


@rule(
    id="lab-several",
    over=(Circuit, Plan),
    severity=Severity.CODE,
    subjects=(Subject.FED,),
    cites={"nec-2017": "90.1"},
    needs=("breaker.rating",),
    hazards=(Hazard.FIRE,),
)
def _several(part: Circuit | Plan, job: Job) -> Iterator[Outcome]:
    match part:
        case Plan():
            yield from each_of(part.boxes.values(), judge, 1.0)
        case Circuit():
            yield Pass()


def test_a_rule_judges_every_part_of_its_kinds_and_the_plan_once() -> None:
    answer = check(read_plan(json.dumps(PLAN).encode()), Catalog((RulePack("lab", "1", (_several,)),)))
    found = [(str(each.where.pointer), each.outcome, [str(need) for need in each.needs]) for each in answer.findings]
    assert found == [
        ("/boxes/flat", "violation", []),
        ("/circuits/c", "undetermined", ["/circuits/c/breaker"]),
        ("/boxes/unsaid", "undetermined", ["/boxes/unsaid/depth"]),
    ]
    assert _several.judges == "circuit, plan"


def test_a_need_that_nothing_judged_could_state_is_refused() -> None:
    with pytest.raises(TypeError, match="has a fact 'depht'"):
        rule(id="x", over=Box, severity=Severity.CODE, cites={}, needs=("depht",))
    rule(id="x", over=(Device, Panel), severity=Severity.CODE, cites={}, needs=("mount",))
