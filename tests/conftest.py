"""Laws that hypothesis tries on made-up plans are ``long``; so are walks that say it themselves. ``-m "not long"`` leaves both out."""

import pytest


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Marks every law."""
    for item in items:
        if getattr(getattr(item, "obj", None), "is_hypothesis_test", False):
            item.add_marker(pytest.mark.long)
