"""The commands there are, each imported only when it is called: ``--help`` and ``--version`` load no rules.

A new command is a module with a click command named ``command`` and one line in ``COMMANDS``.
"""

import importlib
import os
import sys
from collections.abc import Sequence
from typing import Any

import click

from nailplate import __version__, collector
from nailplate.cli.exits import Exit, PipeClosed, exit_of, told

COMMANDS: dict[str, tuple[str, str]] = {
    "batch": ("nailplate.cli.batch", "Check a catalogue of models with their options and editions."),
    "calculate": ("nailplate.cli.calculate", "Work out one figure without a plan."),
    "check": ("nailplate.cli.check", "Check plans and print the reports."),
    "compare": ("nailplate.cli.compare", "Print what a change of a plan, or of the edition, changes."),
    "demo": ("nailplate.cli.demo", "Start the service, check an example house with faults, stop."),
    "draw": ("nailplate.cli.draw", "Draw a plan's levels and walls as sheets."),
    "explain": ("nailplate.cli.explain", "Print the page of one rule."),
    "fix": ("nailplate.cli.fix", "Try the patches of a plan's findings; write them if asked."),
    "healthy": ("nailplate.cli.healthy", "Ask the service on this machine whether it is well."),
    "new": ("nailplate.cli.new", "Write a starter plan: a small house at its layout."),
    "resolve": ("nailplate.cli.resolve", "Print a plan with all that follows from it."),
    "rules": ("nailplate.cli.rules", "List the rules in force."),
    "schema": ("nailplate.cli.schema", "Print the plan's JSON Schema."),
    "serve": ("nailplate.cli.serve", "Serve over HTTP until stopped."),
    "sheets": ("nailplate.cli.sheets", "Write the sheets to build a plan from."),
    "token": ("nailplate.cli.token", "Make a bearer token for the service."),
    "try": ("nailplate.cli.try_rule", "Put one rule's cases to it, in a checkout."),
}
"""Name of each command, the module that holds it as ``command``, and its line in ``--help``."""


class Commands(click.Group):
    """A group whose commands are imported when they are called, and whose failures end by the table of exit codes."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """The names, in the alphabet's order."""
        return sorted(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command, imported now."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = importlib.import_module(COMMANDS[cmd_name][0]).command
        return command

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The lines of the table, so that help imports no command."""
        with formatter.section("Commands"):
            formatter.write_dl([(name, COMMANDS[name][1]) for name in self.list_commands(ctx)])

    def invoke(self, ctx: click.Context) -> Any:
        """Runs the command; a reader that went away is told apart from findings."""
        try:
            result = super().invoke(ctx)
            sys.stdout.flush()
            return result
        except BrokenPipeError:
            os.dup2(os.open(os.devnull, os.O_WRONLY), 1)  # what is still to be flushed has nobody to go to
            raise PipeClosed from None

    def main(
        self,
        args: Sequence[str] | None = None,
        prog_name: str | None = None,
        complete_var: str | None = None,
        standalone_mode: bool = True,
        **extra: Any,
    ) -> Any:
        """Runs the command line; when it stands alone, every failure becomes its exit code."""
        if not standalone_mode:
            return super().main(args, prog_name, complete_var, standalone_mode=False, **extra)
        if args is None:  # the words are the process's own, and so is the process
            collector.collect_seldom()
        try:
            result = super().main(args, prog_name, complete_var, standalone_mode=False, **extra)
        except Exception as error:  # noqa: BLE001 - the one place where a failure becomes an exit code
            told(error)
            sys.exit(exit_of(error))
        sys.exit(result if isinstance(result, int) else Exit.CLEAN)


@click.group(cls=Commands)
@click.version_option(__version__, prog_name="nailplate")
def main() -> None:
    """Check a small house's wiring plan before the walls are closed."""
