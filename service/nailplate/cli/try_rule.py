"""``try``: one rule's cases put to it, for whoever writes the rule. All of them lie beside a rule only in a checkout."""

import time
from collections.abc import Iterator, Mapping
from typing import Any

import click

from nailplate.catalog import Catalog, catalog
from nailplate.cli.exits import Exit, Failure
from nailplate.cli.options import packs_option
from nailplate.codes import EDITIONS
from nailplate.plan import PlanRefused
from nailplate.review.trials import Trial, told, tried
from nailplate.rulekit import Case, Rule
from nailplate.wire import read_plan_value


@click.command("try")
@click.argument("rule_id")
@click.option("--edition", type=click.Choice(EDITIONS), help="Only this edition.")
@click.option("--quiet", "-q", is_flag=True, help="Only the cases that fail.")
@packs_option
def command(rule_id: str, edition: str | None, packs: tuple[str, ...], quiet: bool) -> int:
    """Put the cases of one rule to it and say which pass. The cases lie beside the rule in a checkout."""
    start = time.perf_counter()
    in_force = catalog(packs)
    if rule_id not in in_force.rules:
        raise click.UsageError(f"there is no rule {rule_id!r}; did you mean {in_force.nearest_id(rule_id)!r}?")
    rule = in_force.rules[rule_id]
    results = [(case, year, _faults(rule, case, year, in_force)) for case in _cases(rule) for year in _years(case, edition)]
    for line in _lines(results, quiet=quiet):
        click.echo(line)
    failed = sum(bool(faults) for _, _, faults in results)
    click.echo(f"{rule_id}: {len(results)} runs, {failed} failed, {time.perf_counter() - start:.2f} s")
    return Exit.FOUND if failed else Exit.CLEAN


def _cases(rule: Rule) -> tuple[Case, ...]:
    if not rule.cases:
        raise Failure(f"no cases lie beside {rule.module}; they travel with no package: run this in a checkout of its source")
    if all(case.shown for case in rule.cases):
        click.echo(
            "Only the cases that the rule's page shows are here; run this in a checkout of its source for all.", err=True
        )
    return rule.cases


def _years(case: Case, edition: str | None) -> list[str]:
    years = [name.removeprefix("nec-") for name in case.editions]
    return [year for year in years if edition in (None, year)]


def _faults(rule: Rule, case: Case, year: str, in_force: Catalog) -> tuple[str, ...]:
    """What differs from what the case expects; nothing where it passes."""
    try:
        plan = read_plan_value(case.document(year))
    except PlanRefused as refused:
        return tuple(f"no plan: {fault.pointer or '/'}: {fault.detail}" for fault in refused.faults)
    return tuple(_differences(tried(rule, case, year, plan, in_force)))


def _differences(trial: Trial) -> Iterator[str]:
    if trial.passes:
        return
    yield from (f"wanted {_words(each)}" for each in trial.missed)
    yield from (f"got    {_words(told(*answer))}" for answer in trial.answers)
    if trial.crashed:
        yield "the rule itself failed; its traceback stands above"


def _words(answer: Mapping[str, Any]) -> str:
    further = [f"{name} {value}" for name, value in answer.items() if name not in ("at", "outcome")]
    return ", ".join([f"{answer['at'] or '/'}: {answer['outcome']}", *further])


def _lines(results: list[tuple[Case, str, tuple[str, ...]]], *, quiet: bool) -> Iterator[str]:
    """A line for each case and answer, its editions together; under one that fails, what differs."""
    together: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for case, year, faults in results:
        together.setdefault((case.description, faults), []).append(year)
    for (description, faults), years in together.items():
        if faults or not quiet:
            yield f"{'FAIL' if faults else 'pass'}  {' '.join(years):19}  {description}"
            yield from (f"      {fault}" for fault in faults)
