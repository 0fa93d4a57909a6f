"""What a rule is given beside the part it judges."""

from dataclasses import dataclass

from nailplate.codes import Edition
from nailplate.plan import Plan
from nailplate.survey import Survey


@dataclass(frozen=True, slots=True)
class Job:
    """One plan under one edition: the drawing, what follows from it, and the tables in force.

    ``edition.since(2020)`` asks for the edition; ``permit_date`` is ISO text or None where the plan does not say it.
    """

    plan: Plan
    survey: Survey
    edition: Edition

    @property
    def permit_date(self) -> str | None:
        """The permit date, if the plan says it."""
        return self.plan.basis.permit_date if self.plan.basis.knows("permit_date") else None
