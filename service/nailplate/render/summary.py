"""Several plans at a glance: a row a plan and the most frequent rules, as text for a terminal and as Markdown for a CI page."""

from collections.abc import Iterator, Sequence

from nailplate.render.inert import inert
from nailplate.render.markdown import plain
from nailplate.render.ranked import cited_short, most_frequent, most_severe_first
from nailplate.review.checked import Checked

HEAD = ("plan", "verdict", "danger", "code", "advice", "undetermined", "to judge", "accepted")
_MOST_SHOWN = 10


def row(checked: Checked) -> tuple[str, ...]:
    """The cells of one plan."""
    if checked.report is None:
        return (checked.name, f"unreadable, {len(checked.faults)} faults", *["-"] * (len(HEAD) - 2))
    summary = checked.report.summary
    figures = (summary.danger, summary.code, summary.advice, summary.undetermined, summary.judgements, summary.accepted)
    return (checked.name, checked.report.verdict, *(str(figure) for figure in figures))


def table(checked: Sequence[Checked]) -> str:
    """The rows in columns, and the rules that were violated most."""
    rows = [HEAD, *(tuple(inert(cell) for cell in row(each)) for each in checked)]
    widths = [max(len(line[column]) for line in rows) for column in range(len(HEAD))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)).rstrip() for line in rows]
    frequent = most_frequent(checked)
    if frequent:
        lines += ["", "violated most: " + ", ".join(f"{rule} ({times})" for rule, times in frequent)]
    return "\n".join(lines) + "\n"


def summary(checked: Sequence[Checked]) -> str:
    """The same as Markdown, with the most severe violations: for the summary page of a CI run."""
    return "\n".join(_summary(checked)) + "\n"


def _summary(checked: Sequence[Checked]) -> Iterator[str]:
    yield "## Wiring plan check"
    yield ""
    yield f"| {' | '.join(HEAD)} |"
    yield f"|{'---|' * len(HEAD)}"
    for each in checked:
        yield f"| {' | '.join(plain(cell) for cell in row(each))} |"
    yield ""
    worst = [each for each in most_severe_first(checked) if each.finding.outcome == "violation"]
    for name, finding in ((each.checked.name, each.finding) for each in worst[:_MOST_SHOWN]):
        section = f" ({cited_short(finding)})" if finding.citations else ""
        where = f"{plain(name)} `{finding.where.pointer or '/'}`"
        yield f"- {finding.severity.value}, {finding.rule}, {where}: {plain(finding.message)}{section}"
    if len(worst) > _MOST_SHOWN:
        yield f"- and {len(worst) - _MOST_SHOWN} more violations"
    if worst:
        yield ""
    yield (
        "A check of a drawing is no substitute for the code book, a permit, an inspection or a licensed electrician; the authority "
        "having jurisdiction decides. What was not checked is in each report."
    )
