"""Calculations over HTTP."""

import json
from typing import Any

from web.served import Served
from web.test_hostile_bodies import problem


def calculation(service: Served, name: str, request: dict[str, Any]) -> dict[str, Any]:
    answer = service.send(json.dumps(request).encode(), f"/v1/calculations/{name}")
    assert answer.status_code == 200, answer.text
    value: dict[str, Any] = answer.json()
    return value


def test_box_fill_worked_by_hand(service: Served) -> None:
    # NEC 314.16(B) and Table 314.16(B)(1): 14 AWG counts 2.00 in³. Two 14-2 cables: 4 insulated conductors (8.00), the grounds
    # together once (2.00), a switch twice its conductor (4.00), internal clamps once (2.00): 16.00 in³.
    request = {
        "edition": "2023",
        "conductors": [{"size": "14 AWG", "count": 4}],
        "grounding_conductors": [{"size": "14 AWG", "count": 2}],
        "devices": [{"size": "14 AWG"}],
        "internal_clamps": True,
        "volume": "18 in3",
    }
    value = calculation(service, "box-fill", request)
    assert value["name"] == "box-fill"
    assert value["edition"] == "2023"
    assert value["result"]["counted"] == {"value": 16.0, "unit": "in3"}
    assert value["result"]["spare"] == {"value": 2.0, "unit": "in3"}
    assert value["result"]["fits"] is True
    assert value["steps"]
    assert any(citation.startswith("314.16") for citation in value["citations"])
    assert value["cautions"]


def test_names_are_listed_and_others_are_404(service: Served) -> None:
    names = service.get("/v1/calculations").json()["names"]
    assert {"box-fill", "ampacity", "spacing"} <= set(names)
    detail = problem(service.send(b"{}", "/v1/calculations/box-fil"), 404, "not-found")["detail"]
    assert "'box-fill'" in detail


def test_wrong_requests_are_422_with_pointers(service: Served) -> None:
    for name in service.get("/v1/calculations").json()["names"]:
        path = f"/v1/calculations/{name}"
        problem(service.send(b"[]", path), 422, "invalid-request")
        problem(service.send(b'{"nothing": 1}', path), 422, "invalid-request")
    request = {"edition": "2018", "conductors": [{"size": "14 AG", "count": 0}], "volume": "9**9**9 in3", "boxes": 1}
    found = problem(service.send(json.dumps(request).encode(), "/v1/calculations/box-fill"), 422, "invalid-request")
    assert {error["pointer"] for error in found["errors"]} >= {"/edition", "/conductors/0/size", "/volume", "/boxes"}


def test_three_way_switches_as_a_caller_asks(service: Served) -> None:
    # Common practice: feed at the first switch, light beyond the second; 14-3 between the switches (404.2(A), 300.3(B)).
    request: dict[str, Any] = {
        "edition": "2023",
        "boxes": ["entry", "hall", "light"],
        "feed": "entry",
        "cables": [
            {"from": "entry", "to": "hall", "conductors": 2, "size": "14 AWG"},
            {"from": "hall", "to": "light", "conductors": 2, "size": "14 AWG"},
        ],
        "switches": [{"box": "entry", "kind": "three_way"}, {"box": "hall", "kind": "three_way"}],
        "outlets": [{"box": "light"}],
        "neutral_at_switches": True,
    }
    value = calculation(service, "switching", request)
    assert value["result"]["feasible"] is False
    assert value["result"]["shortages"] == [{"cable": 0, "has": 2, "needs": 3, "equivalent": "14-3 with ground"}]
    assert [row["live"] for row in value["result"]["truth_table"]] == [[True], [False], [False], [True]]
    alone = {**request, "switches": request["switches"][:1]}
    found = problem(service.send(json.dumps(alone).encode(), "/v1/calculations/switching"), 422, "invalid-request")
    assert [error["pointer"] for error in found["errors"]] == ["/switches/0"]
