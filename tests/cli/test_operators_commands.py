"""Commands for whoever runs the service: tokens and the health check."""

import hashlib
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from nailplate.cli import main
from nailplate.web.access import read_tokens
from web.served import Served, free_port, served


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("healthy"), {}) as running:
        yield running


@pytest.mark.parametrize("words", [[], ["--ready"]])
def test_a_service_that_answers_is_healthy(service: Served, words: list[str]) -> None:
    assert CliRunner().invoke(main, ["healthy", "--port", str(service.port), *words]).exit_code == 0
    assert CliRunner(env={"NAILPLATE_PORT": str(service.port)}).invoke(main, ["healthy", *words]).exit_code == 0


def test_where_nothing_answers_nothing_is_healthy() -> None:
    answer = CliRunner().invoke(main, ["healthy", "--port", str(free_port())])
    assert (answer.exit_code, "does not answer" in answer.stderr) == (3, True)


def test_a_token_is_shown_once_and_its_line_is_taken(tmp_path: Path) -> None:
    answer = CliRunner().invoke(main, ["token", "site-office"])
    token = answer.stderr.strip().rpartition(" ")[2]
    tokens = tmp_path / "tokens"
    tokens.write_text(answer.stdout)
    assert read_tokens(tokens) == (hashlib.sha256(token.encode()).digest(),)
    assert token not in answer.stdout
    assert CliRunner().invoke(main, ["token", "site office"]).exit_code == 2
