"""Plans in, the same plans out with everything worked out that follows from them."""

from flask import Response

from nailplate.plan import PlanRefused
from nailplate.review import OverBudget
from nailplate.web.answers import json_answer
from nailplate.web.checking import BODY_PROBLEMS, SUBMISSION, in_force
from nailplate.web.deadline import limited
from nailplate.web.described import described, refer
from nailplate.web.held import settings
from nailplate.web.negotiation import JSON, check_parameters, chosen
from nailplate.web.problems import invalid_plan, over_budget
from nailplate.web.submission import submitted
from nailplate.web.traffic import note, timed
from nailplate.wire import resolved


@described(
    group="Checking",
    answer="The resolved plan: it reads again as a plan and gives the same findings.",
    takes=SUBMISSION,
    gives={JSON: refer("Plan")},
    problems=(*BODY_PROBLEMS, "invalid-plan", "too-much-work", "not-acceptable", "check-too-long", "busy"),
)
def resolve_plan() -> Response:
    """Resolve a plan.

    Defaults are written into the parts that take them, and under `derived` stands, by pointer, where each value comes from that its
    author did not state there: defaults, and with their facts routes worked out between the ends of cables, lengths, what boxes
    hold, what conductors carry and the load of each panel's legs. Nothing reads `derived`; it is worked out anew every time.
    """
    check_parameters()
    chosen((JSON,))
    submission = submitted(in_force())
    try:
        with limited("reading the plan"), timed("resolve"):
            return json_answer(resolved(submission.plan, settings().check_budget))
    except OverBudget as over:
        raise over_budget(over, submission.at) from None
    except PlanRefused as refused:
        note(faults=len(refused.faults))
        raise invalid_plan(refused, submission.at) from None
