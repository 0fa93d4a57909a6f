"""How wide text is before anything draws it, by an embedded table of character widths.

The tables are those of Helvetica and its bold cut in thousandths of an em (Adobe Font Metrics; Arial and Liberation Sans have the same
widths, and a test compares them with the latter's). A character that is not in them is taken as wider than fonts draw it: room is kept
for that much, and whatever font a screen has draws it in its own shape. The few that fonts draw wider still stand as a box.
"""

from typing import Final

from nailplate.sheets.drawing.svg import Markup, Point, element, words
from nailplate.sheets.inert import inert

_REGULAR: Final = {
    188: "′",
    191: "'",
    222: "ijl‘’",
    260: "|¦",
    278: " !,./:;I[\\]ft·ÌÍÎÏìíîï",
    333: "()-`r¡¨²³´¸¹“”",
    334: "{}",
    350: "•",
    354: "″",
    355: '"',
    365: "º",
    370: "ª",
    389: "*",
    400: "°",
    469: "^",
    500: "Jcksvxyzçýÿ",
    537: "¶",
    549: "±÷≤≥",
    552: "¯",
    556: "#$0123456789?L_abdeghnopqu¢£¤¥§«»àáâãäåèéêëðñòóôõöùúûüþ–",
    576: "µ",
    584: "+<=>~¬×",
    611: "FTZ¿ßø",
    667: "&ABEKPSVXYÀÁÂÃÄÅÈÉÊËÝÞ",
    722: "CDHNRUwÇÐÑÙÚÛÜ",
    737: "©®",
    778: "GOQÒÓÔÕÖØ",
    833: "Mm",
    834: "¼½¾⅛⅜⅝⅞",
    889: "%æ",
    944: "W",
    1000: "Æ—…",
    1015: "@",
}
_BOLD: Final = {
    238: "'",
    240: "′",
    278: " ,./I\\ijl·ÌÍÎÏìíîï‘’",
    280: "|¦",
    333: "!()-:;[]`ft¡¨²³´¸¹",
    350: "•",
    365: "º",
    370: "ª",
    389: "*r{}",
    400: "°",
    474: '"',
    479: "″",
    500: "z“”",
    549: "±÷≤≥",
    552: "¯",
    556: "#$0123456789J_aceksvxy¢£¤¥§«¶»àáâãäåçèéêëýÿ–",
    576: "µ",
    584: "+<=>^~¬×",
    611: "?FLTZbdghnopqu¿ßðñòóôõöøùúûüþ",
    667: "EPSVXYÈÉÊËÝÞ",
    722: "&ABCDHKNRUÀÁÂÃÄÅÇÐÑÙÚÛÜ",
    737: "©®",
    778: "GOQwÒÓÔÕÖØ",
    833: "M",
    834: "¼½¾⅛⅜⅝⅞",
    889: "%mæ",
    944: "W",
    975: "@",
    1000: "Æ—…",
}
WIDTHS: Final = {character: width / 1000 for width, characters in _REGULAR.items() for character in characters}
_BOLD_WIDTHS: Final = {character: width / 1000 for width, characters in _BOLD.items() for character in characters}
_UNKNOWN: Final = 1.45
"""Ems: wider than an emoji in the fonts that are usual, and than all but the signs below in DejaVu Sans, as a test measures."""
_UNKNOWN_BOLD: Final = 1.6
_BOX: Final = "□"
_VERY_WIDE: Final = {
    **dict.fromkeys((0x2031, 0x2167, 0x216B, 0x20A7, 0x2A0C, 0x2E3A, 0x2E3B, 0x1F634, 0xFB17, 0xFDFA, 0xFDFB, 0xFDFD), _BOX),
    **dict.fromkeys((*range(0x1400, 0x1680), *range(0x1680, 0x16A0), *range(0x12000, 0x12550), *range(0x13000, 0x14680)), _BOX),
}
"""Signs that fonts draw wider than that: ligatures of a whole phrase, long dashes, syllabics, ogham, cuneiform, hieroglyphs."""
HEIGHT: Final = 1.15
"""Of a line's box in ems, ascent and descent."""
_ASCENT: Final = 0.92


def width_of(text: str, size: float, *, bold: bool = False) -> float:
    """The width of a text set in one line, in the unit of ``size``."""
    widths, unknown = _measures(bold=bold)
    return sum(widths.get(each, unknown) for each in text) * size


def _measures(*, bold: bool) -> tuple[dict[str, float], float]:
    """The measured widths, and what a character without one is taken for; ems."""
    return (_BOLD_WIDTHS, _UNKNOWN_BOLD) if bold else (WIDTHS, _UNKNOWN)


def drawable(text: str) -> str:
    """The text inert, with a box for each sign that fonts draw wider than lettering keeps room for."""
    return inert(text).translate(_VERY_WIDE)


def fitted(text: str, size: float, most: float, *, bold: bool = False) -> str:
    """The text cut to a width, with an ellipsis where it was cut."""
    text = drawable(text)
    if width_of(text, size, bold=bold) <= most:
        return text
    widths, unknown = _measures(bold=bold)
    room, kept = most / size - widths["…"], 0
    for each in text:
        room -= widths.get(each, unknown)
        if room < 0:
            break
        kept += 1
    return f"{text[:kept].rstrip()}…"


def wrapped(text: str, size: float, most: float, lines: int = 99, *, bold: bool = False) -> list[str]:
    """The text in lines of at most a width; the last one is cut where there would be more lines."""
    found: list[str] = []
    line = ""
    for word in drawable(text).split():
        longer = f"{line} {word}".strip()
        if line and width_of(longer, size, bold=bold) > most:
            found.append(line)
            line = word
        else:
            line = longer
    found.append(line)
    if len(found) > lines:
        found[lines - 1 :] = [f"{found[lines - 1]} …"]
    return [fitted(each, size, most, bold=bold) for each in found]


def text(
    at: Point, said: str, size: float, class_: str | None = None, *, anchor: str | None = None, bold: bool = False
) -> Markup:
    """One line of text; ``at`` is on its base line, at its start unless ``anchor`` says middle or end."""
    return element(
        "text",
        words(drawable(said)),
        x=at[0],
        y=at[1],
        font_size=size,
        class_=class_,
        text_anchor=anchor,
        font_weight="bold" if bold else None,
    )


def base_line(top: float, size: float) -> float:
    """Where the base line of a text lies whose box begins at ``top``."""
    return top + _ASCENT * size
