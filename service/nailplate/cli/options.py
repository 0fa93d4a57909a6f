"""Options that several commands take, each written once."""

import os
from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from functools import reduce
from pathlib import Path
from typing import Any, TypeVar

import click

from nailplate.codes import EDITIONS
from nailplate.review import Selection
from nailplate.review.threshold import Threshold
from nailplate.rulekit import Severity
from nailplate.wire import NotJson, read_json

Command = TypeVar("Command", bound=Callable[..., Any])

SEVERITIES = [each.value for each in Severity]
NEVER = "never"

packs_option = click.option("--pack", "packs", multiple=True, help="Put an installed rule pack in force.")
edition_option = click.option(
    "--edition", type=click.Choice(EDITIONS), help="Check by this NEC edition, whatever the plan says."
)
quiet_option = click.option("--quiet", "-q", is_flag=True, help="Print no report and no progress; errors are still told.")
jobs_option = click.option(
    "--jobs", "-j", type=click.IntRange(0, 256), default=0, help="Processes; 0, which is the default, is one a core."
)


def _all(*options: Callable[[Command], Command]) -> Callable[[Command], Command]:
    return lambda command: reduce(lambda made, option: option(made), reversed(options), command)


law_options = _all(
    click.option("--permit-date", metavar="YYYY-MM-DD", help="Check as for a permit of this day."),
    click.option("--amendments", multiple=True, type=click.Path(path_type=Path), help="Add the local amendments of a file."),
)

selection_options = _all(
    click.option("--rule", "rules", multiple=True, help="Run only this rule or family of rules."),
    click.option("--ignore", multiple=True, help="Leave this rule or family out."),
    click.option("--severity", "severities", multiple=True, type=click.Choice(SEVERITIES), help="List only these."),
    click.option("--room", "rooms", multiple=True, help="List only findings in the room of this id."),
)

threshold_options = _all(
    click.option("--fail-at", type=click.Choice(SEVERITIES), default="code", show_default=True, help="Violations that exit 1."),
    click.option(
        "--undecided-at",
        type=click.Choice([*SEVERITIES, NEVER]),
        help="What nobody could decide that exits 4; danger with --ci, else never.",
    ),
    click.option("--fail-on-undetermined", is_flag=True, help="The same as --undecided-at advice."),
    click.option("--ci/--no-ci", default=None, help="Be strict as a CI run should be; unless said, where CI is set."),
)


def selection_of(options: Mapping[str, Any]) -> Selection:
    """The selection that the options make."""
    severities = tuple(Severity(each) for each in options["severities"])
    return Selection(tuple(options["rules"]), tuple(options["ignore"]), severities, tuple(options["rooms"]))


def threshold_of(options: Mapping[str, Any]) -> Threshold:
    """The threshold that the options make."""
    in_ci = os.environ.get("CI", "").lower() in ("1", "true") if options["ci"] is None else options["ci"]
    undecided = options["undecided_at"] or ("advice" if options["fail_on_undetermined"] else "danger" if in_ci else NEVER)
    return Threshold(Severity(options["fail_at"]), None if undecided == NEVER else Severity(undecided))


def today() -> str:
    """The day by which suppressions hold or have ended: the clock's, read here and nowhere below."""
    return datetime.now(UTC).date().isoformat()


def json_file(option: str, path: Path | None) -> Any:
    """The JSON object in a file that an option names; None without one. Raises UsageError."""
    if path is None:
        return None
    try:
        value = read_json(path.read_bytes())
    except (OSError, NotJson) as error:
        raise click.UsageError(f"{option} {path}: {error}") from None
    if not isinstance(value, dict):
        raise click.UsageError(f"{option} {path}: an object was wanted")
    return value
