"""Everything that is wrong with a document, each thing with its pointer, in the order in which the document says it."""

from collections.abc import Iterable, Iterator
from itertools import islice
from typing import Any

from nailplate.plan import Fault, FaultCode, Pointer
from nailplate.wire.fields import Problem
from nailplate.wire.limits import MOST_EXPLAINED
from nailplate.wire.plan_schema import SELF

Placed = tuple[Pointer, Problem]


def faults_in(messages: Any, pointer: Pointer) -> Iterator[Fault]:
    """The faults in marshmallow's tree of messages."""
    return told(problems_in(messages, pointer))


def problems_in(messages: Any, pointer: Pointer) -> Iterator[Placed]:
    """The problems in marshmallow's tree of messages, each with its pointer."""
    if isinstance(messages, dict):
        for key, inner in messages.items():
            yield from problems_in(inner, pointer if key == SELF else pointer / key)
    else:
        for message in messages:
            yield pointer, message if isinstance(message, Problem) else Problem(FaultCode.WRONG_TYPE, str(message))


def told(problems: Iterable[Placed]) -> Iterator[Fault]:
    """The problems as faults, the first of them in full."""
    each = iter(problems)
    for pointer, problem in islice(each, MOST_EXPLAINED):
        yield Fault(pointer, problem.code, problem.in_full() if problem.in_full else problem.detail)
    for pointer, problem in each:
        yield Fault(pointer, problem.code, problem.detail)


def in_document_order(problems: Iterable[Placed], document: object) -> list[Placed]:
    """The problems as a reader meets them; what is missing comes after what its object holds."""
    places = _Places()
    return sorted(problems, key=lambda placed: places.of(placed[0], document))


class _Places:
    """Where the members of objects stand, counted once for each object."""

    def __init__(self) -> None:
        self._known: dict[int, dict[str, int]] = {}

    def of(self, pointer: Pointer, value: Any) -> tuple[int, ...]:
        place = []
        for token in pointer.members:
            number, value = self._step(token, value)
            place.append(number)
        return tuple(place)

    def _step(self, token: str, value: Any) -> tuple[int, Any]:
        if isinstance(value, list):
            return int(token), value[int(token)]
        if not isinstance(value, dict):
            return 0, None
        if id(value) not in self._known:
            self._known[id(value)] = {key: number for number, key in enumerate(value)}
        return self._known[id(value)].get(token, len(value)), value.get(token)
