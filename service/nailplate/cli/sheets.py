"""``sheets``: a plan's sheets of tables into a folder, a file a sheet, or all of them in one PDF."""

from pathlib import Path
from typing import Any, BinaryIO

import click

from nailplate.cli.exits import Exit, Failure
from nailplate.cli.judging import in_force
from nailplate.cli.options import packs_option, today
from nailplate.cli.reading import answered
from nailplate.plan import Plan
from nailplate.render.inert import inert
from nailplate.render.marking import marked
from nailplate.render.stamping import full_stamp_of
from nailplate.render.tables import FORMS, PDF, with_findings
from nailplate.render.tables_pdf import pdf_of_tables
from nailplate.review import Options, Report, check
from nailplate.review.law import law_of
from nailplate.sheets.orders import ExtraMissing, Order, OrderError
from nailplate.sheets.registry import TABLES
from nailplate.sheets.tables import Document
from nailplate.survey import Survey
from nailplate.wire import plan_digest, read_plan_value

_MEDIA = {"markdown": "text/markdown", "html": "text/html", "csv": "text/csv", "json": "application/json", "pdf": PDF}
_ENDINGS = {"markdown": "md"}


@click.command("sheets")
@click.argument("plan", type=click.File("rb"))
@click.option("--out", required=True, type=click.Path(file_okay=False, path_type=Path), help="The folder for the sheets.")
@click.option("--format", "forms", multiple=True, type=click.Choice(list(_MEDIA)), help="May be given again; else Markdown.")
@click.option("--sheet", "names", multiple=True, type=click.Choice(list(TABLES)), help="Only this one; may be given again.")
@click.option("--waste", help="Added to cable and fasteners on the take-off, as 10%; none unless said.")
@click.option("--force", is_flag=True, help="Write over sheets that are there already.")
@packs_option
def command(
    plan: BinaryIO,
    out: Path,
    forms: tuple[str, ...],
    names: tuple[str, ...],
    waste: str | None,
    force: bool,
    packs: tuple[str, ...],
) -> int:
    """Write the sheets to build PLAN from, a file or - for standard input; as PDF all sheets are one file."""
    read = answered(plan, lambda value: _checked(value, packs))
    if read is None:
        return Exit.USAGE
    made = _documents(*read, names or tuple(TABLES), waste)
    for form in dict.fromkeys(forms or ("markdown",)):
        for path, content in _files(out, form, made):
            _write(path, content, force=force)
    return Exit.CLEAN


def _checked(value: Any, packs: tuple[str, ...]) -> tuple[Survey, Report]:
    plan: Plan = read_plan_value(value)
    catalog = in_force(packs)
    report = check(plan, catalog, Options(today=today()), plan_digest(value))
    return Survey(plan, law_of(plan, catalog.rules).edition), report


def _documents(survey: Survey, report: Report, names: tuple[str, ...], waste: str | None) -> list[Document]:
    asked = {"waste": waste} if waste is not None else {}
    order = Order(survey, full_stamp_of(report), "", asked, marked(report.findings))
    try:
        return [with_findings(TABLES[name].make(order), order) for name in TABLES if name in names]
    except OrderError as error:
        raise click.UsageError(str(error)) from None


def _files(out: Path, form: str, made: list[Document]) -> list[tuple[Path, bytes]]:
    """What to write. Raises Failure where the form's package is missing."""
    if form == "pdf":
        try:
            return [(out / "sheets.pdf", pdf_of_tables(made))]
        except ExtraMissing as missing:
            raise Failure(str(missing)) from None
    write, ending = FORMS[_MEDIA[form]], _ENDINGS.get(form, form)
    return [(out / f"{each.name}.{ending}", write(each).encode()) for each in made]


def _write(path: Path, content: bytes, *, force: bool) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        with path.open("wb" if force else "xb") as file:
            file.write(content)
    except FileExistsError:
        raise click.UsageError(f"{path} is there already; --force writes over it") from None
    click.echo(inert(str(path)))
