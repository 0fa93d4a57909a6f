"""How a command ends: the one table of exit codes, and which failure ends with which.

Of several plans the worst decides: 3 beats 2, 2 beats 1, 1 beats 4.
"""

import traceback
from collections.abc import Iterable
from enum import IntEnum

import click


class Exit(IntEnum):
    """The exit codes."""

    CLEAN = 0
    FOUND = 1
    USAGE = 2
    BROKEN = 3
    OPEN = 4
    INTERRUPTED = 130
    PIPE_CLOSED = 141


MEANINGS: dict[Exit, str] = {
    Exit.CLEAN: "clean at the chosen threshold",
    Exit.FOUND: "findings at or over the threshold",
    Exit.USAGE: "wrong usage, input that cannot be read, or output that cannot be written",
    Exit.BROKEN: "an internal error, a rule that failed, or a service that did not start or answer",
    Exit.OPEN: "something undetermined or for the authority to judge, where that was asked to fail",
    Exit.INTERRUPTED: "interrupted from the keyboard",
    Exit.PIPE_CLOSED: "whoever read the output stopped reading",
}
"""What each code says; the README and the help of ``check`` print this table."""


class PipeClosed(Exception):
    """Whoever read the output has stopped."""


def meanings() -> str:
    """The table as a line of help."""
    return "Exit codes: " + "; ".join(f"{int(code)} {words}" for code, words in MEANINGS.items()) + "."


_WORST_LAST = (Exit.CLEAN, Exit.OPEN, Exit.FOUND, Exit.USAGE, Exit.BROKEN)


class Failure(click.ClickException):
    """A failure that is nobody's wrong usage: it ends with 3."""

    exit_code = int(Exit.BROKEN)


def worst(codes: Iterable[int]) -> Exit:
    """One exit code for several plans."""
    return max((Exit(code) for code in codes), key=_WORST_LAST.index, default=Exit.CLEAN)


def exit_of(error: BaseException) -> Exit:
    """The exit code of a failure."""
    if isinstance(error, click.Abort):
        return Exit.INTERRUPTED
    if isinstance(error, PipeClosed):
        return Exit.PIPE_CLOSED
    if isinstance(error, Failure):
        return Exit.BROKEN
    if isinstance(error, click.ClickException) or _is_of_input(error):
        return Exit.USAGE
    return Exit.BROKEN


def told(error: BaseException) -> None:
    """Says on standard error what happened."""
    if isinstance(error, click.ClickException):
        error.show()
    elif isinstance(error, click.Abort):
        click.echo("Interrupted.", err=True)
    elif _is_of_input(error):
        click.echo(f"Error: {error}", err=True)
    elif not isinstance(error, PipeClosed):
        traceback.print_exception(error)


def _is_of_input(error: BaseException) -> bool:
    """Whether a failure is of what the caller named: a pack that is not installed, settings, a file.

    Known by name, so that no rule is imported to end a command that needed none.
    """
    names = {kind.__name__ for kind in type(error).__mro__}
    return bool(names & {"PackError", "SettingsError", "NotJson", "PlanRefused"}) or isinstance(error, OSError)
