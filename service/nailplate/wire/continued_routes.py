"""Routes written the short way: a segment that says only where it ends starts where the one before it ends."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from nailplate.plan import ROOT, FaultCode, Pointer
from nailplate.wire.compound_fields import Loaded
from nailplate.wire.faults import Placed
from nailplate.wire.fields import Problem

_SHORT = ("to", "to_height")


@dataclass(frozen=True, slots=True)
class _End:
    """Where a segment ends, as far as it says."""

    level: str | None
    point: tuple[float, float] | None
    height: float | None


def continued(cables: Mapping[str, Loaded[Any]], problems: list[Placed]) -> Mapping[str, Loaded[Any]]:
    """The cables with the course of every segment as points and heights. Adds what is wrong to ``problems``."""
    return {key: _with_courses(cable, ROOT / "cables" / key, problems) for key, cable in cables.items()}


def _with_courses(cable: Loaded[Any], pointer: Pointer, problems: list[Placed]) -> Loaded[Any]:
    route = cable.facts.get("route", ())
    if not any(name in segment.facts for segment in route for name in _SHORT):
        return cable
    done: list[Loaded[Any]] = []
    end = _End(None, None, None)
    for index, segment in enumerate(route):
        each = _course(segment, end, pointer / "route" / index, problems)
        done.append(each)
        end = _end_of(each)
    return Loaded(cable.kind, {**cable.facts, "route": tuple(done)}, cable.said_at)


def _course(segment: Loaded[Any], start: _End, at: Pointer, problems: list[Placed]) -> Loaded[Any]:
    facts = segment.facts
    short = next((name for name in _SHORT if name in facts), None)
    if short is None:
        return segment
    wrong = _wrong(facts, start)
    if wrong:
        problems.append((at / short, Problem(FaultCode.CONTRADICTION, wrong)))
        return segment
    course: dict[str, Any] = {"points": (start.point, facts.get("to", start.point))}
    said_at = {**segment.said_at, "points": at / short}
    if start.height is not None:
        course["heights"] = (start.height, facts.get("to_height", start.height))
        said_at["heights"] = at / short
    return Loaded(segment.kind, {**facts, **course}, said_at)


def _wrong(facts: Mapping[str, Any], start: _End) -> str | None:
    if "points" in facts or "heights" in facts:
        return "the segment states `points` or `heights` too; one way is enough"
    if start.point is None:
        return "no segment before this one says where it ends; state `points` and `heights`"
    if "to_height" in facts and start.height is None:
        return "the segment before this one says no height; state `points` and `heights`"
    if start.level != facts.get("level"):
        return "the segment before this one is on another level, with other heights; state `points` and `heights`"
    return None


def _end_of(segment: Loaded[Any]) -> _End:
    facts = segment.facts
    if "points" not in facts:
        return _End(facts.get("level"), None, None)
    heights = facts.get("heights", ())
    whole = len(heights) == len(facts["points"])
    return _End(facts.get("level"), facts["points"][-1], heights[-1] if whole and heights else None)
