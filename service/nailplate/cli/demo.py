"""``demo``: the real service, one house, a clean stop."""

import click


@click.command("demo")
@click.option("--format", "shape", type=click.Choice(["markdown", "html"]), default="markdown", show_default=True)
def command(shape: str) -> None:
    """Start the service, check an example house with faults in it, print the report, stop."""
    from nailplate.cli.demonstration import HOUSE, show  # `demo --help` needs neither the service nor the client

    show(HOUSE, f"text/{shape}")
