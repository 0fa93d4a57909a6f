"""How the tables of a sheet call parts of the plan: names cut where they are long, with the whole beside; cables and boxes by kind."""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from nailplate.plan import Cable, Part, Pointer, UnknownFact
from nailplate.plan.words import CableType
from nailplate.sheets.drawing.parts import name_of
from nailplate.sheets.inert import cut, inert
from nailplate.sheets.tables import Cell
from nailplate.units import Measure

LONGEST: Final = 64
"""Characters of one name in a table; a title or the JSON holds the whole."""
SENTENCES: Final = 1000
"""Characters of our own sentences, in which a name may stand."""
Name = Callable[[Part], str]
NOT_STATED: Final = "not stated"


def whole_name(part: Part) -> str:
    """A part's label or id, inert and on one line."""
    return inert(name_of(part))


def short_name(part: Part) -> str:
    """The same, cut where nobody would read on."""
    return cut(whole_name(part), LONGEST)


def said(words: Callable[[Name], str], at: Pointer | None = None) -> Cell:
    """A cell of words in which parts are named."""
    short, whole = words(short_name), words(whole_name)
    return Cell(short, at, whole if whole != short else None)


def listed(parts: Sequence[Part], lead: str = "", tail: str = "", at: Pointer | None = None) -> Cell:
    """A cell that names several parts, between words of our own."""
    return said(lambda name: f"{lead}{'; '.join(name(each) for each in parts)}{tail}", at)


def named(part: Part) -> Cell:
    """A cell that names one part."""
    return said(lambda name: name(part), part.pointer)


def text(words: object, at: Pointer | None = None, most: int = 4 * LONGEST) -> Cell:
    """A cell of words; an author's own are made inert and cut."""
    whole = inert(str(words))
    short = cut(whole, most)
    return Cell(short, at, whole if whole != short else None)


def measured(measure: Callable[[], Measure], at: Pointer | None = None) -> Cell:
    """A cell of a measure; without value, and at the fact that is missing, where the plan does not tell it."""
    try:
        return Cell(measure(), at)
    except UnknownFact as unknown:
        return Cell(None, unknown.pointer)


def stated(part: object, fact: str, missing: str = NOT_STATED) -> str:
    """A stated fact as words."""
    if not part.knows(fact):  # type: ignore[attr-defined]  # Facts of every kind know this
        return missing
    return words_of(getattr(part, fact))


def words_of(value: object) -> str:
    """A word of the plan format as people read it."""
    return str(value).replace("_", " ")


def joined(words: Iterable[str]) -> str:
    """Words with commas between them, each once."""
    return ", ".join(dict.fromkeys(each for each in words if each))


def cable_kind(cable: Cable) -> str:
    """A cable as it is sold: ``NM-B 12-2 with ground``, ``NM-B 2-2-2``; what is not stated is said."""
    kind = stated(cable, "type", "type not stated")
    if kind == CableType.RACEWAY and cable.knows("size", "insulated"):
        ground = " and a grounding conductor" if cable.knows("grounding") and cable.grounding != "none" else ""
        return f"raceway with {cable.insulated} conductors of {cable.size}{ground}"
    if not cable.knows("size"):
        return f"{kind}, size not stated"
    size = cable.size.removesuffix(" AWG")
    number = f"-{cable.insulated}" if cable.knows("insulated") else ", conductors not stated"
    ground = " with ground" if cable.knows("grounding") and cable.grounding != "none" else ""
    metal = f" {cable.material}" if cable.knows("material") and cable.material != "copper" else ""
    low = ", low voltage" if cable.knows("low_voltage") and cable.low_voltage else ""
    return f"{kind} {size}{number}{ground}{metal}{low}"
