"""Parts completed by the author's defaults: what a part leaves out it takes from the default for its kind, else from that for all.

Objects within a part (framing, breaker, place) are completed member by member. A default makes such an object where the part has
none and nothing that it needs is missing; a place never, for a place is each part's own.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import reduce
from typing import Any, get_type_hints

from marshmallow import Schema

from nailplate.plan import PART_KINDS, ROOT, Facts, Pointer, Segment
from nailplate.plan.defaults import SEGMENTS, Default
from nailplate.plan.facts import WHOLE, Needed, json_names
from nailplate.wire.compound_fields import Detail, Loaded
from nailplate.wire.default_fields import Section, SectionShape, kind_read_by
from nailplate.wire.faults import Placed
from nailplate.wire.fields import NEEDED, Problem
from nailplate.wire.plan_schema import holding_facts

DEFAULTS = ROOT / "defaults"
_MISSING = Problem(NEEDED[0].code, NEEDED[0].detail)


@dataclass(slots=True)
class _Fact:
    """One default, where it stands, and how many parts have taken it."""

    pointer: Pointer
    value: Any
    taken: int = 0


@dataclass(slots=True)
class _Inner:
    """Defaults for the members of an object within a part."""

    pointer: Pointer
    kind: type[Facts]
    given: "_Given"


_Given = dict[str, "_Fact | _Inner"]


@dataclass(slots=True)
class _Layers:
    """The defaults of one section: for all parts, and for those of a kind laid over them."""

    told_by: tuple[tuple[str, Any], ...]
    """The fields that tell kinds, the last first, each with what a part that does not state it has by the default for all."""
    for_all: _Given
    by_kind: Mapping[str, _Given]
    laid: dict[tuple[str, ...], _Given] = field(default_factory=dict)

    def for_part(self, facts: Mapping[str, Any]) -> _Given:
        """What a part with these facts may take."""
        if not self.by_kind:
            return self.for_all
        chosen = tuple([kind for name, usual in self.told_by if (kind := facts.get(name, usual)) in self.by_kind])
        if chosen not in self.laid:
            self.laid[chosen] = reduce(lambda lower, kind: _over(self.by_kind[kind], lower), chosen, self.for_all)
        return self.laid[chosen]


class Completion:
    """The defaults of one plan as they are taken, part by part. ``problems``: what parts still need."""

    def __init__(
        self,
        sections: Mapping[str, Section],
        shapes: Mapping[str, SectionShape],
        relaxed: Mapping[type[Facts], tuple[str, ...]],
    ) -> None:
        self._layers = {name: _layers(name, section, shapes[name]) for name, section in sections.items()}
        self._relaxed = {kind: names for kind, names in relaxed.items() if names}
        self.problems: list[Placed] = []

    def completed(self, facts: Mapping[str, Any]) -> dict[str, Any]:
        """The plan's facts with every part completed; a part that still lacks what it needs is left out and told."""
        return {name: self._map(name, value) if name in PART_KINDS else value for name, value in facts.items()}

    def _map(self, name: str, parts: Mapping[str, Loaded[Any]]) -> Mapping[str, Loaded[Any]]:
        done = {key: self._part(name, part) for key, part in parts.items()}
        if not self._relaxed:
            return done
        lacking = {key: [*self._lacking(part, ROOT / name / key)] for key, part in done.items() if self._lacks(part)}
        self.problems += [(pointer, _MISSING) for pointers in lacking.values() for pointer in pointers]
        return {key: part for key, part in done.items() if key not in lacking} if lacking else done

    def _part(self, name: str, part: Loaded[Any]) -> Loaded[Any]:
        layers = self._layers.get(name)
        done = _completed(part, layers.for_part(part.facts)) if layers else part
        segments = self._layers.get(SEGMENTS) if name == "cables" else None
        if segments is None or "route" not in done.facts:
            return done
        route = tuple(_completed(each, segments.for_part(each.facts)) for each in done.facts["route"])
        return Loaded(done.kind, {**done.facts, "route": route}, done.said_at)

    def _lacks(self, part: Loaded[Any]) -> bool:
        """Whether there is any such fact: asked of every part, where next to none has one."""
        facts = part.facts
        for name in self._relaxed.get(part.kind, ()):
            if name not in facts:
                return True
        for name, _ in holding_facts(part.kind):
            inner = facts.get(name)
            if type(inner) is Loaded and self._lacks(inner):
                return True
            if type(inner) is tuple and any(self._lacks(each) for each in inner):
                return True
        return False

    def _lacking(self, part: Loaded[Any], at: Pointer) -> Iterator[Pointer]:
        """Facts that an object needs and that neither it nor a default states."""
        names = json_names(part.kind)
        yield from (at / names[name] for name in self._relaxed.get(part.kind, ()) if name not in part.facts)
        for name, value in part.facts.items():
            if isinstance(value, Loaded):
                yield from self._lacking(value, at / names[name])
            elif type(value) is tuple and value and isinstance(value[0], Loaded):
                for place, each in enumerate(value):
                    yield from self._lacking(each, at / names[name] / place)

    def segment(self, facts: Mapping[str, Any]) -> Loaded[Any]:
        """A stretch of a route that no author draws, with these facts and what the defaults state of such a one."""
        layers = self._layers.get(SEGMENTS)
        if layers is None:
            return Loaded(Segment, facts)
        member = layers.for_part(facts).get("member")
        told = {**facts, "member": member.value} if isinstance(member, _Fact) and "member" not in facts else facts
        return _completed(Loaded(Segment, facts), layers.for_part(told))

    def taken(self, document: Mapping[str, Any]) -> tuple[Default, ...]:
        """Every default, in the document's order, and how many parts took it."""
        facts = {each.pointer: each for layers in self._layers.values() for each in _each_of(layers)}
        return tuple(
            Default(pointer, value, facts[pointer].taken) for pointer, value in _members(document["defaults"], DEFAULTS, facts)
        )


def unsaid(document: Mapping[str, Any], shapes: Mapping[str, SectionShape]) -> dict[type[Facts], tuple[str, ...]]:
    """Of each kind the needed facts that some default names, soundly or not: they are asked for when the parts are completed."""
    defaults = document["defaults"] if isinstance(document["defaults"], dict) else {}
    found: dict[type[Facts], tuple[str, ...]] = {}
    for name, shape in shapes.items():
        section = defaults.get(name)
        if isinstance(section, dict):
            for facts in (section, *(section[value] for value in shape.values if value in section)):
                _relax(found, shape.kind, shape.schema, facts)
    return found


def _relax(found: dict[type[Facts], tuple[str, ...]], kind: type[Facts], schema: Schema, facts: Any) -> None:
    """Adds the needed facts that an object of defaults names, and those of the objects in it."""
    if not isinstance(facts, dict):
        return
    names = json_names(kind)
    named = [each for each in _needed(kind) if names[each] in facts]
    found[kind] = tuple(dict.fromkeys((*found.get(kind, ()), *named)))
    for name, each in schema.fields.items():
        key = each.data_key or name
        if isinstance(each, Detail) and key in facts and (inner := kind_read_by(each.schema)) is not None:
            _relax(found, inner, each.schema, facts[key])


def _needed(kind: type[Facts]) -> tuple[str, ...]:
    if kind not in _NEEDED:
        _NEEDED[kind] = tuple(_needed_names(kind))
    return _NEEDED[kind]


_NEEDED: dict[type[Facts], tuple[str, ...]] = {}


def _needed_names(kind: type[Facts]) -> Iterator[str]:
    hints = get_type_hints(kind, include_extras=True).items()
    yield from (name for name, hint in hints if any(mark is Needed for mark in getattr(hint, "__metadata__", ())))


def _layers(name: str, section: Section, shape: SectionShape) -> _Layers:
    at = DEFAULTS / name
    by_kind = {value: _given(facts, at / value, shape.kind) for value, facts in section.by_kind.items()}
    for_all = _given(section.facts, at, shape.kind)
    usual = {name: each.value for name, each in for_all.items() if isinstance(each, _Fact)}
    return _Layers(tuple((name, usual.get(name)) for name in reversed(tuple(shape.values_of))), for_all, by_kind)


def _given(facts: Mapping[str, Any], at: Pointer, kind: type[Facts]) -> _Given:
    names = json_names(kind)
    given: _Given = {}
    for name, value in facts.items():
        pointer = at / names.get(name, name)
        inner = isinstance(value, Loaded)
        given[name] = _Inner(pointer, value.kind, _given(value.facts, pointer, value.kind)) if inner else _Fact(pointer, value)
    return given


def _over(upper: _Given, lower: _Given) -> _Given:
    laid: _Given = {**lower, **upper}
    for name in upper.keys() & lower.keys():
        one, other = upper[name], lower[name]
        if isinstance(one, _Inner) and isinstance(other, _Inner):
            laid[name] = _Inner(one.pointer, one.kind, _over(one.given, other.given))
    return laid


def _completed(part: Loaded[Any], given: _Given) -> Loaded[Any]:
    """A part with what it takes; the part itself where it takes nothing."""
    facts: dict[str, Any] = {}
    said_at: dict[str, Pointer] = {}
    names = json_names(part.kind)
    for name, each in given.items():
        if name in part.facts:
            own = part.facts[name]
            if isinstance(each, _Inner) and isinstance(own, Loaded):
                facts[name] = _completed(own, each.given)
        elif name not in names:
            continue
        elif isinstance(each, _Fact):
            each.taken += 1
            facts[name], said_at[name] = each.value, each.pointer
        elif (value := _whole(each)) is not None:
            facts[name], said_at[name] = value, each.pointer
    return Loaded(part.kind, {**part.facts, **facts}, said_at) if facts else part


def _whole(each: _Inner) -> Any:
    """An object taken whole from defaults, only where they say everything that such an object needs."""
    if each.kind is Facts or not each.given.keys() >= set(_needed(each.kind)):
        return None
    inner = _completed(Loaded(each.kind, {}), each.given)
    return Loaded(each.kind, inner.facts, {**inner.said_at, WHOLE: each.pointer})


def _each_of(layers: _Layers) -> Iterator[_Fact]:
    for given in (layers.for_all, *layers.by_kind.values()):
        yield from _facts_of(given)


def _facts_of(given: _Given) -> Iterator[_Fact]:
    for each in given.values():
        if isinstance(each, _Fact):
            yield each
        else:
            yield from _facts_of(each.given)


def _members(value: Mapping[str, Any], at: Pointer, facts: Mapping[Pointer, _Fact]) -> Iterator[tuple[Pointer, Any]]:
    for key, inner in value.items():
        pointer = at / key
        if pointer in facts:
            yield pointer, inner
        else:
            yield from _members(inner, pointer, facts)
