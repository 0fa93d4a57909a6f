"""One figure at a time, without a plan."""

from flask import Response

from nailplate.codes import nearest
from nailplate.plan import PlanRefused
from nailplate.web.answers import json_answer, kept
from nailplate.web.bodies import json_body
from nailplate.web.deadline import limited
from nailplate.web.described import described, refer
from nailplate.web.negotiation import JSON, check_parameters, chosen
from nailplate.web.problems import invalid_request, not_found
from nailplate.web.traffic import note, timed
from nailplate.wire import CALCULATIONS, calculate


@described(group="Calculations", answer="The names.", gives={JSON: refer("Names")})
def list_calculations() -> Response:
    """List the calculations."""
    check_parameters()
    return kept(json_answer({"names": sorted(CALCULATIONS)}))


@described(
    group="Calculations",
    answer="The figure, the steps that lead to it, and the sections of the code behind them.",
    takes=refer("CalculationRequest"),
    gives={JSON: refer("Calculation")},
    problems=(
        "malformed-json",
        "body-too-large",
        "unsupported-media",
        "invalid-request",
        "not-found",
        "not-acceptable",
        "too-much-work",
        "check-too-long",
        "busy",
    ),
)
def work_out(name: str) -> Response:
    """Work out one figure.

    The same functions serve the rules, so a figure never differs between a finding and a calculation. The edition is always
    named by the caller and said again in the answer.
    """
    check_parameters()
    chosen((JSON,))
    if name not in CALCULATIONS:
        raise not_found("calculation", name, nearest(name[:80], CALCULATIONS))
    value = json_body()
    try:
        with limited(f"calculation {name}"), timed("work"):
            answer = calculate(name, value)
    except PlanRefused as refused:
        note(faults=len(refused.faults))
        raise invalid_request(refused) from None
    return json_answer(answer)
