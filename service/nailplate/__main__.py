"""``python -m nailplate`` is the command line."""

from nailplate.cli import main

main()
