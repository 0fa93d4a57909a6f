"""The last record of a batch: how many of what, and a digest over all records, so that a cut stream is known from a whole one."""

import hashlib
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from nailplate.wire.results import line_of

_MOST_FREQUENT = 20
OUTCOMES = ("danger", "code", "advice", "undetermined", "judgements")
"""What a summary counts: violations by severity, then what is open."""


@dataclass
class Tally:
    """Counts records as they go by."""

    records: int = 0
    statuses: Counter[str] = field(default_factory=Counter)
    verdicts: Counter[str] = field(default_factory=Counter)
    outcomes: Counter[str] = field(default_factory=Counter)
    rules: Counter[str] = field(default_factory=Counter)
    new: Counter[str] = field(default_factory=Counter)
    against_baseline: int = 0
    resumed_after: str | None = None
    _digest: Any = field(default_factory=hashlib.sha256)

    def count(self, line: str, record: dict[str, Any]) -> None:
        """Counts one record."""
        self.records += 1
        self.statuses[record["status"]] += 1
        self._digest.update(line.encode() + b"\n")
        told = record.get("report", record)
        if record["status"] == "checked":
            self.verdicts[told["verdict"]] += 1
            for name in OUTCOMES:
                self.outcomes[name] += told["summary"][name]
            self.against_baseline += "new" in record
            self.new.update(record.get("new", {}))
        for finding in told.get("findings", ()):
            if finding["outcome"] == "violation":
                self.rules[finding["rule"]] += 1

    def value(self) -> dict[str, Any]:
        """The summary as a JSON value."""
        frequent = sorted(self.rules.items(), key=lambda each: (-each[1], each[0]))[:_MOST_FREQUENT]
        said: dict[str, Any] = {"status": "summary", "records": self.records}
        said |= {"resumed_after": self.resumed_after} if self.resumed_after else {}
        return {
            **said,
            "statuses": {name: self.statuses[name] for name in ("checked", "refused", "failed")},
            "verdicts": {name: self.verdicts[name] for name in ("violations", "incomplete", "clear")},
            "findings": {name: self.outcomes[name] for name in OUTCOMES},
            **({"new": {name: self.new[name] for name in OUTCOMES}} if self.against_baseline else {}),
            "violated_most": [{"rule": rule, "violations": times} for rule, times in frequent],
            "digest": f"sha256:{self._digest.hexdigest()}",
        }

    def line(self) -> str:
        """The summary as a record."""
        return line_of(self.value())
