"""A comparison of two plans, or of one by two editions, as Markdown."""

from collections.abc import Iterator

from nailplate.render.markdown import plain
from nailplate.review.comparing import Comparison, FigureChange
from nailplate.review.report import Finding
from nailplate.units import Measure, Unit, shown

_MOST_PROVISIONS = 200


def comparison_page(comparison: Comparison) -> str:
    """The comparison as a Markdown document."""
    return (
        "\n".join([*_head(comparison), *_findings(comparison), *_parts(comparison), *_figures(comparison), *_code(comparison)])
        + "\n"
    )


def _head(comparison: Comparison) -> Iterator[str]:
    old, new = comparison.old, comparison.new
    yield f"# {plain(old.name)}: what changes" if old.name == new.name else f"# {plain(old.name)} against {plain(new.name)}"
    yield ""
    editions = f"NEC {old.edition}" if old.edition == new.edition else f"NEC {old.edition}, then NEC {new.edition}"
    yield f"- {editions}; verdict {old.verdict}, then {new.verdict}"
    counts = f"{len(comparison.added)} new, {len(comparison.gone)} gone, {len(comparison.changed)} told otherwise"
    yield f"- findings: {counts}, {comparison.unchanged} as before"
    if comparison.left_out:
        yield f"- {comparison.left_out} further findings are not listed"
    yield ""


def _findings(comparison: Comparison) -> Iterator[str]:
    for title, findings in (("New findings", comparison.added), ("Findings gone", comparison.gone)):
        if findings:
            yield f"## {title}"
            yield ""
            yield from (_finding(each) for each in findings)
            yield ""
    if comparison.changed:
        yield "## Findings told otherwise"
        yield ""
        for each in comparison.changed:
            yield f"- {each.rule} at `{each.at or '/'}`: {plain(each.after)} Before: {plain(each.before)}"
        yield ""


def _finding(finding: Finding) -> str:
    return f"- {finding.severity.value}, {finding.outcome}, {finding.rule} at `{finding.where.pointer or '/'}`: {plain(finding.message)}"


def _parts(comparison: Comparison) -> Iterator[str]:
    if comparison.parts:
        yield "## Parts touched"
        yield ""
        for each in comparison.parts:
            fields = f": {', '.join(each.fields)}" if each.fields else ""
            yield f"- `{each.at}` {each.change}{fields}" + (f" ({plain(each.label)})" if each.label else "")
        yield ""


def _figures(comparison: Comparison) -> Iterator[str]:
    titles = (("Boxes", comparison.boxes), ("Lengths of cable", comparison.cables), ("Load", comparison.loads))
    for title, figures in titles:
        if figures:
            yield f"## {title}"
            yield ""
            yield from (_figure(each) for each in figures)
            yield ""


def _figure(figure: FigureChange) -> str:
    before, after = _shown(figure.before), _shown(figure.after)
    derived = ", derived" if figure.derived else ""
    at = f" (`{figure.at}`)" if figure.at else ""
    return f"- {plain(figure.name)}{at}, {figure.what}{derived}: {before}, then {after}"


def _shown(measure: Measure | None) -> str:
    if measure is None:
        return "none"
    return shown(Measure(round(measure.value, 1), measure.unit)) if measure.unit is not Unit.INCH else shown(measure)


def _code(comparison: Comparison) -> Iterator[str]:
    if not comparison.provisions:
        return
    yield "## What the code changed"
    yield ""
    for each in comparison.provisions[:_MOST_PROVISIONS]:
        section = f" ({each.section})" if each.section else ""
        note = f": {plain(each.note)}" if each.note else ""
        before, after = ("not there" if value is None else plain(str(value)) for value in (each.before, each.after))
        yield f"- {each.table}, {plain(each.entry)}{section}: {before}, then {after}{note}"
    left = len(comparison.provisions) - _MOST_PROVISIONS
    if left > 0:
        yield f"- and {left} more"
    yield ""
