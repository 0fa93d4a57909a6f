"""Receptacle spacing along one run of wall or counter, asked without a plan."""

from typing import Annotated, Any

from nailplate.calc.spacing import RunKind
from nailplate.calc.spacing import spacing as spaced
from nailplate.calc.steps import Step
from nailplate.calculations.asked import Request, calculation, given, measure_value
from nailplate.codes import Edition
from nailplate.plan.facts import AtMost, Doc, Items, Needed, drawn
from nailplate.plan.marks import Distance, Length
from nailplate.units import Inches, inches

LONGEST_RUN = 12_000.0
"""Inches of wall or counter: 1000 ft."""


@drawn
class SpacingRequest(Request):
    """One unbroken run of wall or counter."""

    kind: Annotated[RunKind, Doc("wall or counter"), Needed]
    run: Annotated[Length, Doc("its length"), AtMost(LONGEST_RUN), Needed]
    positions: Annotated[tuple[Distance, ...], Doc("receptacles along it"), Items(0, 200)]


@calculation(
    "spacing", SpacingRequest, example={"edition": "2023", "kind": "wall", "run": "18 ft 6 in", "positions": ["3 ft", "14 ft"]}
)
def spacing(request: Any, in_force: Edition) -> tuple[dict[str, Any], tuple[Step, ...]]:
    """How many receptacles a run requires, what is covered, and where others could go."""
    answer = spaced(request.kind, Inches(request.run), given(request, "positions"), in_force)
    result = {
        "required": answer.required,
        "covered": answer.covered,
        "gaps": [{"from": measure_value(inches(gap.start)), "to": measure_value(inches(gap.end))} for gap in answer.gaps],
        "suggested": [measure_value(inches(place)) for place in answer.suggested],
    }
    return result, answer.steps
