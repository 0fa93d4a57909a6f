"""Several patches of one report applied one after the other, so that none overwrites what an earlier one did."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import jsonpatch

from nailplate.plan import PART_KINDS

Patch = Sequence[Mapping[str, Any]]


def applied(document: Any, patches: Iterable[Patch]) -> tuple[Any, list[int]]:
    """The document with the patches applied in their order, and the numbers of those that it refused.

    A patch is refused whole where its ``test`` operations find that an earlier one has changed what it was made for. One that adds a
    whole map is made for a plan without that map; where an earlier patch has made the map, its parts are added to it.
    """
    refused: list[int] = []
    for number, patch in enumerate(patches):
        try:
            document = jsonpatch.apply_patch(document, list(_into_maps(document, patch)))
        except (jsonpatch.JsonPatchException, jsonpatch.JsonPointerException):
            refused.append(number)
    return document, refused


def _into_maps(document: Any, patch: Patch) -> Iterator[dict[str, Any]]:
    for operation in patch:
        name = str(operation["path"]).removeprefix("/")
        held = document.get(name) if isinstance(document, dict) and name in PART_KINDS else None
        if operation["op"] == "add" and isinstance(held, dict) and isinstance(operation["value"], dict):
            yield {"op": "test", "path": f"/{name}", "value": held}
            yield from ({"op": "add", "path": f"/{name}/{key}", "value": part} for key, part in operation["value"].items())
        else:
            yield dict(operation)
