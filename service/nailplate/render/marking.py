"""A report's findings as a drawing marks them: under the numbers that the report tells them by, with what their remedies would add."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from nailplate.plan import Pointer
from nailplate.render.wording import together
from nailplate.review.report import Finding
from nailplate.sheets.drawing import Findings, Mark, Proposal

Numbered = tuple[int, list[Finding]]
"""The number of the first of some findings that are told together; the others have those that follow."""


def numbered(findings: Sequence[Finding]) -> Iterator[Numbered]:
    """Findings as they are told, each group under its number."""
    number = 1
    for group in together(findings):
        yield number, group
        number += len(group)


def marked(findings: Sequence[Finding], page: str | None = None) -> Findings:
    """What a drawing shows of these findings. ``page`` begins the ids of a page that tells of them, and may be empty."""
    marks: list[Mark] = []
    proposals: list[Proposal] = []
    for first, group in numbered(findings):
        for number, finding in enumerate(group, first):
            mark = _mark(number, finding)
            marks.append(mark if page is None else replace(mark, target=f"#{page}f{first}", anchor=f"{page}m{number}"))
            proposals += (Proposal(number, device) for device in _added(finding))
    return Findings(tuple(marks), tuple(proposals))


def _mark(number: int, finding: Finding) -> Mark:
    where = finding.where
    ids = (where.pointer, *where.related)
    room = (Pointer("/rooms") / where.room,) if where.room else ()
    return Mark(
        number=number,
        severity=finding.severity.value,
        open=finding.outcome != "violation",
        words=finding.message,
        pointers=(*ids, *room),
    )


def _added(finding: Finding) -> Iterator[dict[str, object]]:
    """The devices that the first remedy which adds any would add."""
    for remedy in finding.remedies:
        devices = [device for each in remedy.patch if each.op == "add" for device in _devices(each.path, each.value)]
        if devices:
            yield from devices
            return


def _devices(path: Pointer, value: object) -> Iterator[dict[str, object]]:
    members = path.members
    if members[:1] != ("devices",) or not isinstance(value, dict):
        return
    if len(members) == len(("devices", "id")):
        yield value
    elif len(members) == len(("devices",)):
        yield from (each for each in value.values() if isinstance(each, dict))
