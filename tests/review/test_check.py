"""What a report promises: verdicts, stages, amendments, suppressions, fingerprints, and that nothing passes in silence."""

import json
import logging
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import pytest

from nailplate.catalog import Catalog, catalog
from nailplate.codes import EDITIONS
from nailplate.plan import Box, PlanRefused
from nailplate.plan.words import Regime
from nailplate.review import Options, Report, check
from nailplate.review.report import Gap
from nailplate.rulekit import Hazard, Job, NotConcerned, Outcome, Pass, RulePack, Severity, Subject, Violation, rule
from nailplate.wire import read_plan, report_json

SMALL: dict[str, Any] = {
    "plan_format": 1,
    "name": "small",
    "basis": {"edition": "2023", "regime": "dwelling"},
    "stage": "rough_in",
}
CABLE = {"type": "NM-B", "size": "14 AWG", "insulated": 2, "grounding": "14 AWG", "circuit": "c"}


def crowded(volume: str = "13 in3", **more: Any) -> dict[str, Any]:
    """A hall switch box with two 14-2 cables, which count for 14 in³."""
    return {
        **SMALL,
        "panels": {"p": {"kind": "subpanel"}},
        "circuits": {
            "c": {
                "voltage": 120,
                "breaker": {"rating": 15, "protects": "none"},
                "conductor": {"size": "14 AWG", "type": "NM-B"},
            }
        },
        "boxes": {"hall": {"volume": volume, "clamps": "none"}, "lamp": {"volume": "20 in3", "clamps": "none"}},
        "devices": {"s": {"kind": "switch", "box": "hall", "circuit": "c"}},
        "cables": {
            "a": {**CABLE, "ends": [{"panel": "p"}, {"box": "hall"}]},
            "b": {**CABLE, "ends": [{"box": "hall"}, {"box": "lamp"}]},
        },
        **more,
    }


def only(rule_id: str) -> Catalog:
    """Our pack with one rule in it, so that a test speaks of nothing else."""
    pack = catalog().packs[0]
    return Catalog((replace(pack, rules=tuple(each for each in pack.rules if each.id == rule_id)),))


def report(document: dict[str, Any], packs: Catalog | None = None, today: str | None = None) -> Report:
    return check(read_plan(json.dumps(document).encode()), packs or only("box-volume"), Options(today=today))


def test_a_violation_is_told_with_figure_limit_section_and_caution() -> None:
    (finding,) = report(crowded()).findings
    assert (finding.rule, finding.outcome, finding.severity) == ("box-volume", "violation", Severity.CODE)
    assert finding.measured is not None
    assert finding.limit is not None
    assert (finding.measured.value, finding.limit.value) == (13.0, 14.0)
    assert finding.citations[0].section == "314.16"
    assert finding.cautions
    assert sum(line.subtotal.value for line in finding.lines) == 14.0


@pytest.mark.parametrize(("volume", "verdict"), [("13 in3", "violations"), ("14 in3", "clear")])
def test_verdict_follows_the_findings(volume: str, verdict: str) -> None:
    assert report(crowded(volume)).verdict == verdict


def test_a_missing_fact_leaves_the_verdict_incomplete() -> None:
    document = crowded()
    del document["boxes"]["hall"]["volume"]
    answer = report(document)
    assert answer.verdict == "incomplete"
    assert answer.findings[0].needs == ("/boxes/hall/volume",)


def test_a_plan_of_which_nothing_was_checked_is_not_clear() -> None:
    answer = report(SMALL)
    assert answer.findings == ()
    assert answer.verdict == "incomplete"


@pytest.mark.parametrize(("stage", "listed", "later"), [("circuits", 0, 1), ("rough_in", 1, 0)])
def test_facts_of_a_later_stage_are_counted_and_not_listed(stage: str, listed: int, later: int) -> None:
    document = {**SMALL, "stage": stage, "boxes": {"hall": {}}, "devices": {"s": {"kind": "switch", "box": "hall"}}}
    answer = report(document)
    assert (len(answer.findings), answer.summary.later) == (listed, later)


@pytest.mark.parametrize(
    ("rule_id", "need"), [("circuit-fed", "/appliances/heater/outlet"), ("panel-spaces", "/panels/p/directory")]
)
@pytest.mark.parametrize(("stage", "asked"), [("circuits", False), ("rough_in", True)])
def test_a_wired_appliances_outlet_and_the_panels_directory_are_asked_for_at_rough_in(
    rule_id: str, need: str, stage: str, asked: bool
) -> None:
    document = {
        **SMALL,
        "stage": stage,
        "panels": {"p": {"kind": "load_center", "spaces": 8}},
        "circuits": {"c": {"panel": "p", "position": [1], "breaker": {"poles": 1}}},
        "appliances": {"heater": {"kind": "water_heater", "connection": "hard_wired", "circuit": "c"}},
    }
    found = report(document, only(rule_id)).findings
    assert any(need in finding.needs for finding in found) is asked


def test_a_plan_without_a_stage_is_checked_as_ready_for_cover_up_and_told_so() -> None:
    document = crowded()
    del document["stage"]
    answer = report(document)
    assert answer.basis.stage_assumed
    assert any("does not say its stage" in caution for caution in answer.cautions)


def test_the_same_plan_gives_the_same_bytes_whatever_the_order_of_its_rules() -> None:
    backward = Catalog(tuple(replace(pack, rules=pack.rules[::-1]) for pack in catalog().packs))
    assert report_json(report(crowded(), catalog())) == report_json(report(crowded(), backward))


def test_fingerprints_stay_when_another_part_is_added_or_a_figure_changes() -> None:
    first = report(crowded()).findings[0].fingerprint
    document = crowded("12 in3")
    document["boxes"] = {"attic": {"volume": "9 in3"}, **document["boxes"]}
    assert report(document).findings[0].fingerprint == first


def amended(**change: Any) -> dict[str, Any]:
    wording = {"citation": "Ordinance 12", "reason": "adopted locally"}
    return crowded(basis={**SMALL["basis"], "amendments": {"x": {**change, **wording}}})


def test_an_amendment_switches_a_rule_off_and_is_listed() -> None:
    answer = report(amended(change="off", rule="box-volume"))
    assert answer.findings == ()
    assert answer.coverage.not_in_force[0].why == "switched off by a local amendment: Ordinance 12"
    assert answer.basis.amendments[0].effect == "rule box-volume is switched off"


def test_an_amendment_changes_a_severity_and_the_default_is_told() -> None:
    (finding,) = report(amended(change="severity", rule="box-volume", severity="danger")).findings
    assert (finding.severity, finding.severity_by_default) == (Severity.DANGER, Severity.CODE)


def test_an_amendment_sets_a_table_value() -> None:
    answer = report(amended(change="value", table="box_fill", entry="per_conductor.14 AWG", value=1.5))
    assert answer.verdict == "clear"
    assert "per_conductor.14 AWG is 1.5" in answer.basis.amendments[0].effect


@pytest.mark.parametrize(
    ("change", "effect"),
    [
        ({"change": "off", "entry": "items.garages.applies"}, "items.garages.applies is switched off"),
        ({"change": "on", "entry": "whole_kitchens"}, "whole_kitchens is switched on"),
        ({"change": "value", "entry": "items.garages.volts", "value": 125}, "items.garages.volts is 125"),
    ],
)
def test_an_amendment_switches_one_entry_of_a_table_and_no_rule(change: dict[str, Any], effect: str) -> None:
    answer = report(amended(table="gfci_locations", **change))
    assert answer.basis.amendments[0].effect == f"table gfci_locations, {effect}"
    assert not any(each.why.startswith("switched off") for each in answer.coverage.not_in_force)


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"change": "off", "rule": "box-volum"}, "/basis/amendments/x/rule"),
        ({"change": "off"}, "/basis/amendments/x/rule"),
        ({"change": "off", "table": "gfci_locations"}, "/basis/amendments/x/entry"),
        ({"change": "on", "rule": "box-volume", "entry": "whole_kitchens"}, "/basis/amendments/x/table"),
        ({"change": "on", "table": "gfci_locations", "entry": "items.garages.volts"}, "/basis/amendments/x/entry"),
        ({"change": "off", "table": "gfci_locations", "entry": "items.garage.applies"}, "/basis/amendments/x/entry"),
        ({"change": "severity", "rule": "box-volume"}, "/basis/amendments/x/severity"),
        ({"change": "value", "table": "box_fil", "entry": "a", "value": 1}, "/basis/amendments/x/entry"),
    ],
)
def test_an_amendment_of_nothing_there_is_refused(change: dict[str, Any], pointer: str) -> None:
    with pytest.raises(PlanRefused) as caught:
        report(amended(**change))
    assert [str(fault.pointer) for fault in caught.value.faults] == [pointer]


def suppressed(rule_id: str = "box-volume", part: str = "/boxes/hall", **more: Any) -> dict[str, Any]:
    wording = {"reason": "deeper box ordered", "accepted_by": "R. Moss"}
    return crowded(suppressions={"x": {"rule": rule_id, "part": part, **wording, **more}})


@pytest.mark.parametrize(
    ("more", "today", "accepted"),
    [
        ({}, None, 1),
        ({"until": "2026-05-01"}, "2026-05-01", 1),
        ({"until": "2026-05-01"}, "2026-05-02", 0),
        ({"until": "2026-05-01"}, None, 0),
    ],
)
def test_a_suppression_holds_through_its_last_day(more: dict[str, Any], today: str | None, accepted: int) -> None:
    answer = report(suppressed(**more), today=today)
    assert len(answer.accepted) == accepted
    assert any("ended on" in finding.message for finding in answer.findings) == (not accepted)


def test_a_suppression_that_accepts_nothing_is_a_finding() -> None:
    messages = [finding.message for finding in report(suppressed(part="/boxes/lamp")).findings]
    assert "No finding of box-volume at /boxes/lamp: this suppression accepts nothing." in messages


def test_danger_is_never_accepted_away() -> None:
    document = suppressed("conductor-protection", "/circuits/c")
    document["circuits"]["c"]["breaker"]["rating"] = 20
    answer = report(document, only("conductor-protection"))
    assert answer.accepted == ()
    assert {finding.rule for finding in answer.findings} == {"conductor-protection", "suppression-holds"}


@rule(id="lab/crash", over=Box, severity=Severity.CODE, cites={"nec-2017": "none"}, hazards=(Hazard.SHOCK,))
def _crash(box: Box, job: Job) -> Outcome:
    raise RuntimeError("this rule is broken")


@rule(id="lab/twice", over=Box, severity=Severity.CODE, cites={"nec-2017": "none"}, hazards=(Hazard.SHOCK,))
def _twice(box: Box, job: Job) -> Iterator[Outcome]:
    yield Violation("one", facet="left")
    yield Violation("two", facet="left")
    yield NotConcerned()
    yield Pass()


@rule(id="lab/new", over=Box, severity=Severity.CODE, cites={"nec-2023": "1", "nec-2026": None}, hazards=(Hazard.SHOCK,))
def _new(box: Box, job: Job) -> Outcome:
    return Pass()


LAB = Catalog((RulePack("lab", "1", (_crash, _twice, _new)),))


def test_a_rule_that_fails_is_an_answer_and_a_log_line(monkeypatch: pytest.MonkeyPatch) -> None:
    # the line is looked for at the logger itself: another test of the same process may have set up logging in a way of its own
    logger = logging.getLogger("nailplate.review")
    lines: list[str] = []
    handler = logging.Handler()
    monkeypatch.setattr(handler, "emit", lambda record: lines.append(record.getMessage()))
    for name, value in (("disabled", False), ("handlers", [handler]), ("level", logging.ERROR)):
        monkeypatch.setattr(logger, name, value)
    monkeypatch.setattr(logging.root.manager, "disable", logging.NOTSET)
    logger.manager._clear_cache()  # type: ignore[attr-defined]  # what was worked out of levels before
    answer = report(crowded(), LAB)
    crashes = [finding for finding in answer.findings if finding.rule == "lab/crash"]
    assert {finding.outcome for finding in crashes} == {"undetermined"}
    assert next(each for each in answer.coverage.rules if each.rule == "lab/crash").crashed == 2
    assert any("lab/crash failed: " in line for line in lines)
    assert not any("/boxes/hall" in line for line in lines)


def test_equal_findings_of_one_part_keep_apart() -> None:
    prints = [finding.fingerprint for finding in report(crowded(), LAB).findings if finding.rule == "lab/twice"]
    assert len(prints) == len(set(prints)) == 4


@pytest.mark.parametrize(("edition", "runs"), [("2020", False), ("2023", True), ("2026", False)])
def test_a_rule_runs_in_the_editions_that_ask_for_it(edition: str, runs: bool) -> None:
    answer = report(crowded(basis={"edition": edition, "regime": "dwelling"}), LAB)
    assert ("lab/new" in {each.rule for each in answer.coverage.rules}) == runs
    assert ("lab/new" in {each.rule for each in answer.coverage.not_in_force}) != runs


@pytest.mark.parametrize("regime", ["recreational_vehicle", "park_trailer"])
def test_rules_for_dwellings_do_not_run_on_what_is_none_and_the_report_says_so(regime: str) -> None:
    answer = report(crowded(basis={"edition": "2023", "regime": regime}), catalog())
    off = {each.rule for each in answer.coverage.not_in_force}
    assert {"wall-space", "gfci-locations", "afci-rooms", "tamper-resistant"} <= off
    assert "dwelling units only were not run" in answer.cautions[0]


@pytest.mark.parametrize(
    ("basis", "words"),
    [
        ({}, "does not say which rules"),
        ({"regime": "dwelling", "on_wheels": True}, "stands on wheels"),
        ({"regime": "dwelling", "provisions": ["living", "sleeping"]}, "none for cooking, sanitation"),
    ],
)
def test_a_doubtful_class_is_cautioned(basis: dict[str, Any], words: str) -> None:
    assert any(words in caution for caution in report(crowded(basis={"edition": "2023", **basis})).cautions)


def test_findings_over_the_most_wanted_are_counted() -> None:
    plan = read_plan(json.dumps(crowded()).encode())
    answer = check(plan, LAB, Options(max_findings=1))
    assert (answer.summary.listed, answer.summary.left_out) == (1, 5)
    assert answer.verdict == "violations"


def gaps(answer: Report) -> dict[str, Gap]:
    return {each.subject: each.gap for each in answer.not_covered}


def test_a_report_names_every_subject_that_no_rule_is_about() -> None:
    missing = "Not checked: recessed luminaires in insulation."
    answer = report(crowded("14 in3"))
    assert missing in answer.coverage.not_checked
    assert gaps(answer)[Subject.RECESSED] is Gap.NO_RULE
    spoken = Catalog((RulePack("lab", "1", (replace(_twice, subjects=(Subject.RECESSED,)),)),))
    assert missing not in report(crowded("14 in3"), spoken).coverage.not_checked
    assert Subject.RECESSED not in gaps(report(crowded("14 in3"), spoken))


def test_one_rule_of_a_subject_does_not_make_it_checked() -> None:
    other = replace(_twice, id="other", subjects=(Subject.RECESSED,))
    both = Catalog((RulePack("lab", "1", (other, replace(_twice, subjects=(Subject.RECESSED,)))),))
    off = {"a": {"change": "off", "rule": "other", "citation": "Ordinance 1", "reason": "here"}}
    answer = report(crowded("14 in3", basis={"edition": "2023", "amendments": off}), both)
    (gap,) = [each for each in answer.not_covered if each.subject == Subject.RECESSED]
    assert (gap.gap, gap.rules) == (Gap.IN_PART, ("other",))
    assert "Ordinance 1" in gap.why


@pytest.mark.parametrize("regime", [None, *Regime])
@pytest.mark.parametrize("edition", EDITIONS)
def test_a_plan_that_draws_nothing_is_incomplete_in_any_regime(edition: str, regime: Regime | None) -> None:
    basis = {"edition": edition, **({"regime": regime.value} if regime else {})}
    answer = report({"plan_format": 1, "name": "bare", "basis": basis}, catalog())
    assert answer.verdict == "incomplete"
    assert gaps(answer)[Subject.BOX_FILL] is Gap.NOTHING_DRAWN


def test_a_subject_whose_rules_speak_of_dwellings_only_is_named_in_another_regime() -> None:
    answer = report(crowded("14 in3", basis={"edition": "2023", "regime": "park_trailer"}), catalog())
    assert gaps(answer)[Subject.AFCI] is Gap.NOT_IN_FORCE


@pytest.mark.parametrize(
    ("change", "verdict"),
    [
        ({}, "clear"),
        ({"change": "value", "table": "limits", "entry": "fan_unmarked.value", "value": 20}, "incomplete"),
        ({"change": "value", "table": "limits", "entry": "fan_heaviest.value", "value": 20}, "violations"),
    ],
)
def test_a_local_limit_acts_on_the_rules_that_ask_for_it(change: dict[str, Any], verdict: str) -> None:
    amendments = {"local": {**change, "citation": "Ordinance 1", "reason": "here"}} if change else {}
    fan = {"kind": "fan", "box": "b", "weight": "30 lb", "mount": "ceiling"}
    place = {"levels": {"m": {"kind": "storey"}}, "rooms": {"r": {"level": "m", "uses": ["bedroom"]}}}
    box = {"fan_rated": True, "at": {"room": "r", "point": [90, 90], "height": 96}}
    plan = {
        **SMALL,
        **place,
        "basis": {"edition": "2023", "amendments": amendments},
        "boxes": {"b": box},
        "devices": {"f": fan},
    }
    assert report(plan, only("fan-box")).verdict == verdict


def test_a_local_provision_is_switched_on_by_its_name() -> None:
    change = {
        "change": "on",
        "table": "provisions",
        "entry": "fan_box_anywhere.holds",
        "citation": "Ordinance 1",
        "reason": "here",
    }
    answer = report({**SMALL, "basis": {"edition": "2017", "amendments": {"local": change}}}, only("fan-box"))
    assert answer.basis.amendments[0].effect == "table provisions, fan_box_anywhere.holds is switched on"
