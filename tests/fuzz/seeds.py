"""What mutation starts from: the example houses, clean and with their faults, and the plan of every rule's case."""

import json
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

import jsonpatch

from nailplate.catalog import Catalog, catalog
from nailplate.plan import PlanRefused
from nailplate.wire import read_plan_value

Document = dict[str, Any]
HOUSES = ("tamarack-wren", "tamarack-heron", "tamarack-osprey")


@cache
def packs() -> Catalog:
    """Our own rule pack."""
    return catalog()


def example(name: str) -> Any:
    """A JSON file of the examples."""
    return json.loads(files("nailplate").joinpath("examples", f"{name}.json").read_text(encoding="utf-8"))


def faulty(name: str) -> Document:
    """An example house with all its planted faults."""
    house: Document = example(name)
    for fault in example(f"{name}.faults")["faults"]:
        try:
            with_it = jsonpatch.apply_patch(house, fault["patch"])
        except (jsonpatch.JsonPatchException, jsonpatch.JsonPointerException):
            continue  # made for the house with a fault that was left out
        house = with_it if _is_plan(with_it) else house
    return house


def _is_plan(document: Document) -> bool:
    """Whether a document is read; two planted faults may contradict each other."""
    try:
        read_plan_value(document)
    except PlanRefused:
        return False
    return True


@cache
def houses() -> tuple[Document, ...]:
    """The example houses, clean and faulty."""
    return tuple(document for name in HOUSES for document in (example(name), faulty(name)))


@cache
def cases() -> tuple[tuple[str, Document], ...]:
    """Every case's plan under every edition that it names, with the rule and the description that it belongs to."""
    return tuple(_cases())


def _cases() -> Iterator[tuple[str, Document]]:
    for rule in packs().rules.values():
        for case in rule.cases:
            for edition in case.editions:
                yield f"{rule.id}: {case.description} [{edition}]", case.document(edition.removeprefix("nec-"))
