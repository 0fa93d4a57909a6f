"""Whether the boxes that a cable enters hold it in a larger size."""

from collections.abc import Iterable
from dataclasses import replace as altered
from typing import Any

from nailplate.calc.box_fill import BoxContents, counted_volume
from nailplate.codes import Edition
from nailplate.plan import Cable, UnknownFact
from nailplate.survey.boxes import contents_of, inside, sizes_in, volume_of
from nailplate.survey.index import Survey
from nailplate.survey.wiring import NodeKind, ends_of
from nailplate.units import reaches


def boxes_hold(survey: Survey, cables: Iterable[Cable], size: str, edition: Edition) -> bool:
    """Whether each of their boxes surely holds them in that size; one whose volume or contents are open is no obstacle."""
    entered = (box_id for cable in cables for box_id in _boxes_of(survey, cable))
    return all(survey.once(_holds, box_id, size, edition) for box_id in dict.fromkeys(entered))


def _boxes_of(survey: Survey, cable: Cable) -> list[str]:
    passed = [each.box for each in cable.passes] if cable.knows("passes") else []
    return [*passed, *(end.id for end in ends_of(survey, cable) if end.kind is NodeKind.BOX)]


def _holds(survey: Survey, box_id: str, size: str, edition: Edition) -> bool:
    """As if everything smaller in it became as large, which is the most that new wire can bring."""
    box = survey.plan.boxes[box_id]
    try:
        volume = volume_of(survey, box, edition)
        sizes = {size, *sizes_in(inside(survey, box))}
        contents = contents_of(survey, box, edition).least
    except UnknownFact:  # unknown: no violation of box fill can be told of it either
        return True
    if not edition.box_fill.per_conductor.keys() >= sizes:
        return True  # 4 AWG and larger is no matter of 314.16
    return reaches(volume, counted_volume(_raised(contents, size, edition), edition.box_fill).total)


def _raised(contents: BoxContents, size: str, edition: Edition) -> BoxContents:
    larger = edition.conductors.larger
    kinds: dict[str, Any] = {
        name: tuple(altered(each, size=size) if larger(size, each.size) else each for each in getattr(contents, name))
        for name in ("conductors", "grounding_conductors", "isolated_grounding", "yokes")
    }
    return altered(contents, **kinds)
