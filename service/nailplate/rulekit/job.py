"""What a rule is given beside the part it judges."""

from nailplate.codes import Edition, Figures, Limit
from nailplate.plan import Plan
from nailplate.records import record
from nailplate.survey import Survey


@record(frozen=True, slots=True)
class Job(Figures):
    """One plan under one edition: the drawing, what follows from it, and the tables in force.

    ``job.holds("fan_box_anywhere")`` asks whether the edition has a provision, ``job.pounds("fan_heaviest")`` for a figure of it
    and ``job.measure("fan_heaviest")`` for the same with its unit; ``permit_date`` is ISO text or None where the plan does not say it.
    """

    plan: Plan
    survey: Survey
    edition: Edition

    def limit_entry(self, name: str) -> Limit:
        """The figure of that name in the edition in force. Raises CodeTableError."""
        return self.edition.limit_entry(name)

    def holds(self, name: str) -> bool:
        """Whether the edition in force has that provision. Raises CodeTableError."""
        return self.edition.holds(name)

    @property
    def permit_date(self) -> str | None:
        """The permit date, if the plan says it."""
        return self.plan.basis.permit_date if self.plan.basis.knows("permit_date") else None
