"""One line a finding: ``FILE:LINE:COLUMN: severity outcome rule: message [section] pointer``, for editors and logs."""

from collections.abc import Iterator, Sequence

from nailplate.render.inert import inert
from nailplate.render.ranked import cited_short
from nailplate.review.checked import Checked
from nailplate.review.report import Finding


def lines(checked: Sequence[Checked]) -> str:
    """Plan by plan, each finding and each fault of a document on a line of its own."""
    return "".join(f"{line}\n" for each in checked for line in _of_plan(each))


def _of_plan(checked: Checked) -> Iterator[str]:
    for fault in checked.faults:
        region = checked.locate(fault.pointer)
        yield inert(
            f"{checked.name}:{region.line}:{region.column}: unreadable {fault.code.value}: {fault.detail} {fault.pointer}"
        )
    for finding in checked.report.findings if checked.report else ():
        yield finding_line(checked, finding)


def finding_line(checked: Checked, finding: Finding) -> str:
    """The line of one finding."""
    region = checked.locate(finding.where.pointer)
    section = cited_short(finding)
    said = f"{finding.severity.value} {finding.outcome} {finding.rule}: {finding.message}" + (
        f" [{section}]" if section else ""
    )
    return inert(f"{checked.name}:{region.line}:{region.column}: {said} {finding.where.pointer or '/'}")
