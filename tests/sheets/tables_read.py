"""Sheets of tables of the example houses and of other plans, made as the service makes them, and their rows read by heads."""

import json
from functools import cache
from typing import Any

from nailplate.plan import Plan
from nailplate.render.tables import FORMS
from nailplate.sheets.drawing import Stamp
from nailplate.sheets.orders import Order
from nailplate.sheets.registry import TABLES
from nailplate.sheets.tables import Document
from nailplate.survey import Survey
from sheets.houses import plan_of

Row = dict[str, Any]


def document(plan: Plan, sheet: str, stamp: Stamp | None = None, **asked: str) -> Document:
    order = Order(Survey(plan), stamp or Stamp(plan.name, "2023", "d1ce", (("core", "1"),), "2026-12-01"), "", asked)
    return TABLES[sheet].make(order)


@cache
def of_house(name: str, sheet: str) -> dict[str, Any]:
    value: dict[str, Any] = json.loads(FORMS["application/json"](document(plan_of(name), sheet)))
    return value


def rows(value: dict[str, Any], table: str) -> list[Row]:
    """The rows of every table of that title: figures as numbers, words as words, None where a cell is empty."""
    return [
        {column["head"]: _plain(cell) for column, cell in zip(each["columns"], row, strict=True)}
        for section in value["sections"]
        for each in section["tables"]
        if each["title"] == table
        for row in each["rows"]
    ]


def _plain(cell: dict[str, Any]) -> Any:
    return cell.get("value", cell.get("text"))


def pointers(value: dict[str, Any], table: str, column: int = 0) -> list[str]:
    """What the cells of one column point at."""
    return [
        row[column].get("pointer")
        for section in value["sections"]
        for each in section["tables"]
        if each["title"] == table
        for row in each["rows"]
    ]
