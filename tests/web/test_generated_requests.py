"""Requests made up from the API description: each answer has a status, a kind and a body that the description tells of.

That what fits the schemas is accepted is not asked: a reference to nothing, or a rule that there is not, fits them too.
"""

import json
import logging
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from schemathesis.checks import positive_data_acceptance

from nailplate.web import create_app
from nailplate.web.settings import Settings

pytestmark = pytest.mark.long
DESCRIPTION = json.loads((Path(__file__).parents[2] / "openapi" / "openapi.json").read_text(encoding="utf-8"))
OPERATIONS = [(method, path) for path, item in DESCRIPTION["paths"].items() for method in item if method in ("get", "post")]
REQUESTS = 4
"""Of each operation and each kind: some hundred and sixty in all, in under a minute of one core."""
STEADY = settings(
    max_examples=REQUESTS,
    deadline=None,
    derandomize=True,
    database=None,
    suppress_health_check=list(HealthCheck),
    phases=[Phase.explicit, Phase.generate],
)


def kinds(method: str, path: str) -> list[schemathesis.GenerationMode]:
    """Requests as described, and such as are not where anything can be said otherwise: in a query or a body, not in a path's name."""
    operation = DESCRIPTION["paths"][path][method]
    asked = any(each["in"] == "query" for each in operation.get("parameters", ()))
    return list(schemathesis.GenerationMode) if asked or "requestBody" in operation else [schemathesis.GenerationMode.POSITIVE]


@pytest.fixture(scope="module")
def described() -> Iterator[Any]:
    """The service in this process, by its own description."""
    app = create_app(Settings(metrics=False))
    requests = logging.getLogger("nailplate.requests")
    before = requests.level
    requests.setLevel(logging.CRITICAL)
    yield schemathesis.openapi.from_wsgi("/openapi.json", app)
    requests.setLevel(before)


@pytest.mark.parametrize(("method", "path", "mode"), [(*each, mode) for each in OPERATIONS for mode in kinds(*each)])
def test_answers_are_as_described(described: Any, method: str, path: str, mode: schemathesis.GenerationMode) -> None:
    operation = described[path][method]

    @STEADY
    @given(case=operation.as_strategy(generation_mode=mode))
    def holds(case: Any) -> None:
        case.call_and_validate(headers={"Accept-Encoding": "identity"}, excluded_checks=[positive_data_acceptance])

    holds()
