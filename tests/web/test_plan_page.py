"""The page of the contract: every kind and field of the published schema stands on it, and the home page links to it."""

from html import unescape

from nailplate.wire import plan_schema
from web.served import Served


def test_every_field_of_a_plan_is_on_its_page(service: Served) -> None:
    page = service.get("/docs/plan")
    assert page.status_code == 200
    text, schema = unescape(page.text), plan_schema()
    for kind in ("Wall", "Device", "Need", "Cable"):
        assert f'<section id="{kind}">' in text
        for name, field in schema["$defs"][kind]["properties"].items():
            assert f"<code>{name}</code>" in text
            assert field["description"] in text
    assert "<code>$schema</code>" in text


def test_the_page_is_linked_from_the_docs_and_from_home(service: Served) -> None:
    assert 'href="/docs/plan"' in service.get("/docs").text
    home = service.get("/", headers={"Accept": "application/json"}).json()
    assert home["links"]["plan"] == "/docs/plan"
