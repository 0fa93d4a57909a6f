"""The same bytes again get the same answer from memory, and it is never another than a cold check gives."""

import json
import logging
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from importlib.resources import files
from time import process_time
from typing import Any

import jsonpatch
import pytest
from flask import Flask
from flask.testing import FlaskClient

from nailplate.catalog import Catalog, catalog
from nailplate.rulekit import Outcome, Rule
from nailplate.web import Settings, checking, create_app
from nailplate.web.kept_answers import Answer, Answers
from web.plans import SMALL, with_change

HOUSE = "tamarack-wren"
DAY = "2026-03-02"


@pytest.fixture(autouse=True)
def quiet(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(checking, "today", lambda: DAY)
    log = logging.getLogger("nailplate.requests")
    log.disabled = True
    yield
    log.disabled = False


def service(**settings: Any) -> FlaskClient:
    return create_app(Settings(**settings)).test_client()


def said(client: FlaskClient, value: object, **headers: str) -> bytes:
    answer = client.post("/v1/checks", data=json.dumps(value), content_type="application/json", headers=headers)
    assert answer.status_code == 200, answer.text
    data: bytes = answer.data
    return data


def house(*faults: int) -> Any:
    folder = files("nailplate").joinpath("examples")
    plan = json.loads((folder / f"{HOUSE}.json").read_text(encoding="utf-8"))
    every = json.loads((folder / f"{HOUSE}.faults.json").read_text(encoding="utf-8"))["faults"]
    for number in faults:
        plan = jsonpatch.apply_patch(plan, every[number]["patch"])
    return plan


def held_by(app: Flask) -> Answers | None:
    return app.extensions.get("nailplate.kept_answers")


WAYS: tuple[tuple[object, Mapping[str, str]], ...] = (
    (house(), {}),
    (house(0), {}),
    (house(0), {"Accept": "text/markdown"}),
    (house(0), {"Accept": "text/html"}),
    (house(0), {"Accept": "application/sarif+json"}),
    (SMALL, {}),
    (with_change(SMALL, "basis", "edition", to="2026"), {}),
    ({"plan": SMALL}, {}),
    ({"plan": SMALL, "options": {"max_findings": 1}}, {}),
    ({"plan": SMALL, "options": {"rules": ["box-volume"]}}, {}),
    ({"plan": SMALL, "options": {"show_accepted": True}}, {}),
)
"""Bodies and headers of which each has to get an answer of its own."""


def test_in_any_order_every_answer_is_that_of_a_cold_check() -> None:
    cold, warm = service(kept_answers=0), service()
    for rounds in range(3):
        for value, headers in WAYS[rounds:] + WAYS[:rounds]:
            assert said(warm, value, **headers) == said(cold, value, **headers)
    held = held_by(warm.application)
    assert held is not None
    assert held.size > 0
    assert held_by(cold.application) is None


def test_another_day_is_another_answer(monkeypatch: pytest.MonkeyPatch) -> None:
    until = {
        "s": {"rule": "box-volume", "part": "/boxes/hall", "reason": "old work", "accepted_by": "the builder", "until": DAY}
    }
    plan, client = {**SMALL, "suppressions": until}, service()
    said(client, plan)
    assert len(json.loads(said(client, plan))["accepted"]) == 1
    later = date.fromisoformat(DAY).replace(day=3).isoformat()
    monkeypatch.setattr(checking, "today", lambda: later)
    answer = json.loads(said(client, plan))
    assert answer["accepted"] == []
    assert answer["made"]["date"] == later


def test_a_refused_plan_is_not_kept() -> None:
    client = service()
    for _ in range(2):
        answer = client.post("/v1/checks", data=b'{"plan_format": 1}', content_type="application/json")
        assert answer.status_code == 422
    held = held_by(client.application)
    assert held is None or held.size == 0


def failing(rule: Rule) -> Rule:
    def fails(*_: object) -> Outcome:
        raise ZeroDivisionError

    return replace(rule, judge=fails)


def test_an_answer_in_which_a_rule_failed_is_not_kept() -> None:
    client, sound = service(), catalog()
    pack = sound.packs[0]
    broken = tuple(failing(rule) if rule.id == "box-volume" else rule for rule in pack.rules)
    client.application.extensions["nailplate.catalog"] = Catalog((replace(pack, rules=broken),))
    assert any(each["crashed"] for each in json.loads(said(client, SMALL))["coverage"]["rules"])
    client.application.extensions["nailplate.catalog"] = sound
    assert not any(each["crashed"] for each in json.loads(said(client, SMALL))["coverage"]["rules"])


def test_the_same_plan_again_takes_a_tenth_of_the_first_check() -> None:
    client = service()
    said(client, SMALL)
    shares = []
    for number in range(5):
        plan = {**house(), "name": f"Wren {number}"}
        times = []
        for _ in range(2):
            began = process_time()
            said(client, plan)
            times.append(process_time() - began)
        shares.append(times[1] / times[0])
    assert sorted(shares)[2] <= 0.1


def test_memory_stays_flat_over_ten_thousand_answers() -> None:
    held = Answers(2_000_000)
    for number in range(10_000):
        held.keep(number.to_bytes(32), Answer(bytes(50_000), {}))
        assert held.size <= 2_000_000
    assert held.find((0).to_bytes(32)) is None
    assert held.find((9_999).to_bytes(32)) is not None


def test_what_was_asked_for_last_stays_and_what_is_too_large_never_comes_in() -> None:
    held = Answers(100_000)
    keys = [bytes([each]) for each in range(12)]
    for key in keys:
        held.keep(key, Answer(bytes(8_000), {}))
        held.find(keys[0])
    assert held.find(keys[0]) is not None
    assert held.find(keys[1]) is None
    held.keep(b"large", Answer(bytes(20_000), {}))
    assert held.find(b"large") is None
