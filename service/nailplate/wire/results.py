"""The result for one plan among several, as JSON: its report, or the faults for which there is none."""

import json
from collections.abc import Sequence
from typing import Any

from nailplate.review.checked import Checked
from nailplate.review.inert import inert_json
from nailplate.wire.report import report_value


def result_value(checked: Checked) -> dict[str, Any]:
    """``{"file", "status": "checked", "report"}`` or ``{"file", "status": "unreadable", "faults"}``."""
    if checked.report is not None:
        return {"file": checked.name, "status": "checked", "report": report_value(checked.report)}
    faults = [{"pointer": str(each.pointer), "code": each.code.value, "detail": each.detail} for each in checked.faults]
    return {"file": checked.name, "status": "unreadable", "faults": faults}


def ndjson(checked: Sequence[Checked]) -> str:
    """One result a line."""
    return "".join(f"{line_of(result_value(each))}\n" for each in checked)


def line_of(value: object) -> str:
    """A JSON value on one line."""
    return inert_json(json.dumps(value, ensure_ascii=False, separators=(",", ":")))
