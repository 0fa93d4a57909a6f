"""Workflow commands: lines that a CI runner turns into remarks beside the changed file, most severe first.

A runner shows ten of each kind in a step and drops the rest in silence, so no more are sent; the others stand in the log as
plain lines, and the last remark says how many there are. Against a baseline, only what is new is told.
"""

from collections.abc import Iterator, Sequence

from nailplate.render.inert import inert
from nailplate.render.lines import finding_line
from nailplate.render.ranked import Placed, cited_short, most_severe_first
from nailplate.review.checked import Checked, Region
from nailplate.review.report import Finding
from nailplate.rulekit import Severity

MOST_OF_A_KIND = 10
_KINDS = {Severity.DANGER: "error", Severity.CODE: "error", Severity.ADVICE: "notice"}


def annotations(checked: Sequence[Checked]) -> str:
    """The commands, one a line."""
    return "".join(f"{line}\n" for line in _all(checked))


def _all(checked: Sequence[Checked]) -> Iterator[str]:
    sent = {"error": 0, "warning": 0, "notice": 1}  # one notice is kept for the last remark
    for each in checked:
        for fault in each.faults:
            sent["error"] += 1
            if sent["error"] <= MOST_OF_A_KIND:
                yield _command("error", each, each.locate(fault.pointer), "unreadable plan", f"{fault.pointer}: {fault.detail}")
            else:
                yield inert(f"{each.name}: {fault.pointer}: {fault.detail}")
    kept_back = sum(max(0, number - MOST_OF_A_KIND) for number in sent.values())
    unchanged = 0
    for placed in most_severe_first(checked):
        if placed.finding.baseline == "unchanged":
            unchanged += 1
            continue
        kind = _kind(placed.finding)
        sent[kind] += 1
        if sent[kind] <= MOST_OF_A_KIND:
            yield _of_finding(kind, placed)
        else:
            kept_back += 1
            yield finding_line(*placed)
    further = [f"{kept_back} further findings are in the log of this step"] if kept_back else []
    further += [f"{unchanged} findings are those of the baseline"] if unchanged else []
    if further:
        yield f"::notice title=nailplate::{'; '.join(further)}"


def _kind(finding: Finding) -> str:
    return _KINDS[finding.severity] if finding.outcome == "violation" else "warning"


def _of_finding(kind: str, placed: Placed) -> str:
    checked, finding = placed
    section = cited_short(finding)
    title = f"{finding.severity.value}: {finding.rule}" + (f" ({section})" if section else "")
    return _command(kind, checked, checked.locate(finding.where.pointer), title, f"{finding.message} {finding.where.pointer}")


def _command(kind: str, checked: Checked, region: Region, title: str, message: str) -> str:
    where = f"file={_property(checked.name)},line={region.line},endLine={region.end_line},col={region.column}"
    return f"::{kind} {where},title={_property(title)}::{_data(message)}"


def _data(text: str) -> str:
    return inert(text).replace("%", "%25")


def _property(text: str) -> str:
    return _data(text).replace(":", "%3A").replace(",", "%2C")
