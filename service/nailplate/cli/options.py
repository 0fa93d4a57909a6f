"""Options that several commands take, each written once."""

import click

from nailplate.codes import EDITIONS

packs_option = click.option("--pack", "packs", multiple=True, help="Put an installed rule pack in force.")
edition_option = click.option(
    "--edition", type=click.Choice(EDITIONS), help="Check by this NEC edition, whatever the plan says."
)
