from collections.abc import Iterator

import pytest

from web.served import Served, served


@pytest.fixture(scope="session")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with served(tmp_path_factory.mktemp("service"), {}, workers=2) as running:
        yield running
