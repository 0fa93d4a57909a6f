"""Each calculation's example body is answered, so that the documentation never shows one that is refused."""

import pytest

from nailplate.calculations import CALCULATIONS
from nailplate.wire import calculate, calculation_schemas


@pytest.mark.parametrize("name", CALCULATIONS)
def test_example_is_answered_with_steps_and_stands_in_the_schema(name: str) -> None:
    example = dict(CALCULATIONS[name].example)
    answer = calculate(name, example)
    assert answer["name"] == name
    assert answer["result"]
    assert answer["steps"]
    assert calculation_schemas()[name]["examples"] == [example]
