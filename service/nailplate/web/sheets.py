"""Sheets to build from: one plan in, one sheet out."""

from flask import Response, request

from nailplate.calc.work import doing
from nailplate.codes import nearest
from nailplate.render.marking import marked
from nailplate.render.stamping import full_stamp_of, stamp_of
from nailplate.render.tables import rendered
from nailplate.review.law import law_of
from nailplate.sheets.orders import ExtraMissing, Order, OrderError, Sheet, TableSheet
from nailplate.sheets.registry import SHEETS
from nailplate.survey import Survey
from nailplate.web.answers import json_answer, kept, text_answer
from nailplate.web.checking import BODY_PROBLEMS, SUBMISSION, in_force, report_on
from nailplate.web.deadline import limited
from nailplate.web.described import Parameter, described, refer
from nailplate.web.negotiation import JSON, check_parameters, chosen, format_parameter
from nailplate.web.problems import BAD_PARAMETER, NOT_ACCEPTABLE, Problem, not_found
from nailplate.web.submission import submitted
from nailplate.web.traffic import timed

MEDIA = tuple(dict.fromkeys(media for sheet in SHEETS.values() for media in sheet.media))
"""Every media type that some sheet comes as."""
_PARAMETERS = {name: Parameter(meaning) for sheet in reversed(SHEETS.values()) for name, meaning in sheet.parameters.items()}


@described(group="Sheets", answer="The names.", gives={JSON: refer("Names")})
def list_sheets() -> Response:
    """List the sheets."""
    check_parameters()
    return kept(json_answer({"names": sorted(SHEETS)}))


@described(
    group="Sheets",
    answer="The sheet, with the plan's digest, edition, packs, date and the cautions that go with it.",
    takes=SUBMISSION,
    gives={media: {"type": "object" if media == JSON else "string"} for media in MEDIA},
    parameters={"format": format_parameter(MEDIA), **_PARAMETERS},
    problems=(*BODY_PROBLEMS, "invalid-plan", "not-acceptable", "not-found", "too-much-work", "check-too-long", "busy"),
)
def make_sheet(name: str) -> Response:
    """Make one sheet to build from.

    Takes what a check takes. `drawing` is the wiring plan of a level or the elevation of a wall to architectural scale, with the
    findings of the check marked under the numbers of its report. Every other sheet is tables: `application/json`, `text/markdown`,
    `text/html`, `text/csv` (no cell that a spreadsheet would run) or `application/pdf`.
    """
    if name not in SHEETS:
        raise not_found("sheet", name, nearest(name[:80], SHEETS))
    sheet = SHEETS[name]
    check_parameters("format", *sheet.parameters)
    media = chosen(sheet.media)
    asked = {key: value for key, value in request.args.items() if key in sheet.parameters}
    submission = submitted(in_force())
    with limited("reading the plan"):
        plan, report = report_on(submission)
        doing(f"the sheet {name}")
        with timed("write"), Survey(plan, law_of(plan, in_force().rules).edition) as survey:
            stamp = full_stamp_of(report) if isinstance(sheet, TableSheet) else stamp_of(report)
            return text_answer(_written(sheet, Order(survey, stamp, media, asked, marked(report.findings))), media)


def _written(sheet: Sheet | TableSheet, order: Order) -> bytes:
    try:
        return rendered(sheet.make(order), order) if isinstance(sheet, TableSheet) else sheet.write(order)
    except ExtraMissing as missing:
        raise Problem(NOT_ACCEPTABLE, str(missing)) from None
    except OrderError as error:
        raise Problem(BAD_PARAMETER, str(error)) from None
