"""Whether the service runs, and whether it can judge."""

from typing import Any

from flask import Response

from nailplate.plan import PlanRefused
from nailplate.review import check
from nailplate.web.answers import json_answer
from nailplate.web.checking import in_force
from nailplate.web.described import described
from nailplate.web.negotiation import JSON
from nailplate.web.problems import NOT_READY, Problem
from nailplate.wire import read_plan_value

_STATUS = {"type": "object", "properties": {"status": {"const": "pass"}}, "required": ["status"]}

PLANTED = "/boxes/crowded"
SELF_CHECK: dict[str, Any] = {
    "plan_format": 1,
    "name": "the service's check of itself",
    "basis": {"edition": "2023"},
    "panels": {"panel": {"kind": "subpanel"}},
    "circuits": {"lights": {}},
    "boxes": {"crowded": {"volume": "4 in3", "clamps": "none"}, "roomy": {"volume": "60 in3", "clamps": "none"}},
    "devices": {"switch": {"kind": "switch", "box": "crowded", "circuit": "lights"}},
    "cables": {
        "feed": {
            "type": "NM-B",
            "size": "14 AWG",
            "insulated": 2,
            "grounding": "14 AWG",
            "circuit": "lights",
            "ends": [{"panel": "panel"}, {"box": "crowded"}],
        },
        "onward": {
            "type": "NM-B",
            "size": "14 AWG",
            "insulated": 2,
            "grounding": "14 AWG",
            "circuit": "lights",
            "ends": [{"box": "crowded"}, {"box": "roomy"}],
        },
    },
}
"""A plan with one fault, a crowded box, that a service in order finds there and nowhere else."""


@described(group="Operations", answer="The process answers.", gives={JSON: _STATUS})
def healthz() -> Response:
    """Tell whether the process answers."""
    return json_answer({"status": "pass"})


@described(group="Operations", answer="The service judges plans.", gives={JSON: _STATUS}, problems=("not-ready",))
def readyz() -> Response:
    """Tell whether the service can judge: it checks a plan of its own and must find the fault planted there."""
    if _crowded_boxes() != [PLANTED]:
        raise Problem(NOT_READY, "The check of a plan with a known fault did not find it.")
    return json_answer({"status": "pass"})


def _crowded_boxes() -> list[str]:
    try:
        report = check(read_plan_value(SELF_CHECK), in_force())
    except PlanRefused:
        return []
    return [
        finding.where.pointer for finding in report.findings if finding.rule == "box-volume" and finding.outcome == "violation"
    ]
