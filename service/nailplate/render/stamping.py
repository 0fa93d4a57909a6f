"""A report's stamp for the sheets of its plan."""

from dataclasses import replace

from nailplate.review.report import Report
from nailplate.sheets.drawing import Stamp


def stamp_of(report: Report) -> Stamp:
    """Plan, digest, edition, packs and date, as a sheet's title block says them."""
    return Stamp(
        plan=report.plan.name,
        edition=report.basis.edition,
        digest=report.plan.digest,
        packs=tuple((pack.name, pack.version) for pack in report.basis.packs),
        issued=report.made.date if report.made else None,
    )


def full_stamp_of(report: Report) -> Stamp:
    """The same with the report's cautions, for sheets that carry no others of it."""
    return replace(stamp_of(report), cautions=report.cautions)
