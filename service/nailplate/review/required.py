"""Hears what the rules say on their way to findings, and hands it to the list of what the house needs: no rule runs twice."""

from collections.abc import Iterable, Iterator

from nailplate.codes import TextStatus
from nailplate.review.engine import Judged
from nailplate.review.findings import citations
from nailplate.rulekit import Job, Rule
from nailplate.sheets.loads import Loads
from nailplate.sheets.requirements import ASKED, Requirements, Said, requirements_of


class Required:
    """What the rules that require something said of one plan."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._said: list[Said] = []
        self._cited: dict[str, Said] = {}

    def heard(self, rule: Rule, every: Iterable[Judged]) -> Iterable[Judged]:
        """The same outcomes, noted where the rule requires something."""
        return self._noted(rule, every) if rule.id in ASKED else every

    def _noted(self, rule: Rule, every: Iterable[Judged]) -> Iterator[Judged]:
        cites = citations(rule, self._job)
        section = "; ".join(f"{each.document} {each.edition} {each.section}" for each in cites)
        status = cites[0].text_status if cites else TextStatus.ASSUMED
        self._cited[rule.id] = Said(rule.id, self._job.plan.pointer, None, section, status)
        for said in every:
            self._said.append(Said(rule.id, said.part.pointer, said.outcome, section, status))
            yield said

    def sheet(self, loads: Loads) -> Requirements:
        """What the house needs."""
        return requirements_of(self._job, self._said, self._cited, loads)
