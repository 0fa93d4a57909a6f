"""References from part to part: what names a part that is not there, looked up in the document itself, sound or not."""

import difflib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import chain, islice
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from nailplate.plan import PART_KINDS, ROOT, Facts, FaultCode, Pointer, Segment
from nailplate.plan.defaults import SEGMENTS
from nailplate.plan.facts import Refers, json_names
from nailplate.wire.faults import Placed
from nailplate.wire.fields import Problem, is_id
from nailplate.wire.limits import MOST_CANDIDATES, MOST_SUGGESTIONS
from nailplate.wire.plan_schema import only_key

Maps = Mapping[str, Mapping[str, object]]
Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class _Field:
    """A field that holds ids of one map, or objects of one of some kinds."""

    name: str
    map_name: str | None
    kinds: tuple[type[Facts], ...]


def lost_references(document: Mapping[str, Any]) -> Iterator[Placed]:
    """Every reference to nothing, with the nearest id there is."""
    maps: Maps = {name: given if isinstance(given := document.get(name), dict) else {} for name in PART_KINDS}
    parts = ((kind, part, (name, key)) for name, kind in PART_KINDS.items() for key, part in maps[name].items() if is_id(key))
    said = chain(_defaults(document.get("defaults")), parts)
    lost = (each for kind, part, path in said for each in _lost(kind, part, path, maps))
    for number, (path, wanted, map_name) in enumerate(lost):
        yield _pointer(path), _nowhere(wanted, map_name, maps, among=MOST_CANDIDATES if number < MOST_SUGGESTIONS else 0)


def _defaults(defaults: Any) -> Iterator[tuple[type[Facts], Any, Path]]:
    """What defaults say of each kind of part, for all of them and for some."""
    sections: Mapping[str, type[Facts]] = {**PART_KINDS, SEGMENTS: Segment}
    for name, section in defaults.items() if type(defaults) is dict else ():
        kind = sections.get(name)
        if kind is not None and type(section) is dict:
            yield kind, section, ("defaults", name)
            yield from ((kind, inner, ("defaults", name, key)) for key, inner in section.items() if type(inner) is dict)


def _lost(kind: type[Facts], value: Any, path: Path, maps: Maps) -> Iterator[tuple[Path, str, str]]:
    """Where a reference to nothing stands, the id it gives, and the map that was meant."""
    if type(value) is not dict:
        return
    for field in _fields(kind):
        if field.name in value:
            for inner_path, inner in _items(value[field.name], (*path, field.name)):
                if field.map_name is None:
                    for inner_kind in _chosen(field.kinds, inner):
                        yield from _lost(inner_kind, inner, inner_path, maps)
                elif type(inner) is str and inner not in maps[field.map_name] and is_id(inner):
                    yield inner_path, inner, field.map_name


def _items(value: Any, path: Path) -> Iterator[tuple[Path, Any]]:
    if type(value) is list:
        yield from (((*path, index), item) for index, item in enumerate(value))
    else:
        yield path, value


def _chosen(kinds: tuple[type[Facts], ...], value: Any) -> tuple[type[Facts], ...]:
    """The kind of object that this is meant to be; none where that cannot be told."""
    if len(kinds) == 1 or type(value) is not dict:
        return kinds[:1]
    given = tuple(kind for kind in kinds if only_key(kind) in value)
    return given if len(given) == 1 else ()


def _pointer(path: Path) -> Pointer:
    pointer = ROOT
    for token in path:
        pointer /= token
    return pointer


def _nowhere(wanted: str, map_name: str, maps: Maps, *, among: int) -> Problem:
    elsewhere = [name for name, parts in maps.items() if wanted in parts]
    if elsewhere:
        said = f"{wanted!r} is one of the {elsewhere[0]}; the id of one of the {map_name} was wanted"
        return Problem(FaultCode.DANGLING_REFERENCE, said)
    said = f"there is none of the {map_name} with the id {wanted!r}"
    return Problem(FaultCode.DANGLING_REFERENCE, said, lambda: said + _nearest(wanted, islice(maps[map_name], among)))


def _nearest(wanted: str, ids: Iterable[str]) -> str:
    close = difflib.get_close_matches(wanted, [each for each in ids if is_id(each)], n=1, cutoff=0.5)
    return f"; did you mean {close[0]!r}?" if close else ""


_KNOWN: dict[type, tuple[_Field, ...]] = {}


def _fields(kind: type[Facts]) -> tuple[_Field, ...]:
    """The fields of a kind through which references can be reached."""
    if kind not in _KNOWN:
        _KNOWN[kind] = _looked_through(kind)
    return _KNOWN[kind]


def _looked_through(kind: type[Facts]) -> tuple[_Field, ...]:
    names = json_names(kind)
    hints = get_type_hints(kind, include_extras=True).items()
    fields = [_Field(names[name], _map_name(hint), tuple(_kinds(hint))) for name, hint in hints]
    return tuple(field for field in fields if field.map_name or any(_fields(inner) for inner in field.kinds))


def _map_name(hint: Any) -> str | None:
    """The map that ids in a field refer to."""
    if get_origin(hint) is Annotated:
        marks = [mark for mark in hint.__metadata__ if isinstance(mark, Refers)]
        return marks[0].map_name if marks else _map_name(get_args(hint)[0])
    return _map_name(get_args(hint)[0]) if get_origin(hint) is tuple else None


def _kinds(hint: Any) -> Iterator[type[Facts]]:
    if isinstance(hint, type) and get_origin(hint) is None:
        if issubclass(hint, Facts):
            yield hint
    elif get_origin(hint) is not dict:
        for inner in get_args(hint):
            yield from _kinds(inner)
