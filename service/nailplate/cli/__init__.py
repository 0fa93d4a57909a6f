"""The command line. ``commands.py`` lists the commands, ``exits.py`` the exit codes; each command is a module of its own."""

from nailplate.cli.commands import main

__all__ = ["main"]
