"""A larger grounding conductor for a circuit: cable as it is sold, other wire, or a wire of its own where there is a raceway."""

from collections.abc import Iterator
from typing import Final

from nailplate.calc.grounding import grounding_conductor
from nailplate.plan import Cable, UnknownFact
from nailplate.plan.words import CableType
from nailplate.remedies.patches import Remedy, state
from nailplate.survey.wiring import Wire, bearing, material_of
from nailplate.terms import Material
from nailplate.units import amperes, reaches, shown

SOLD_WITH: Final = {
    "14 AWG": "14 AWG",
    "12 AWG": "12 AWG",
    "10 AWG": "10 AWG",
    "8 AWG": "10 AWG",
    "6 AWG": "10 AWG",
    "4 AWG": "8 AWG",
    "2 AWG": "8 AWG",
}
"""The ground in copper NM-B and UF-B cable of each size, as it is sold (common practice; UL 719, from memory)."""
_SHEATHED: Final = (CableType.NM_B, CableType.UF_B)


def grounding_remedies(wire: Wire, needed: str, least: str) -> tuple[Remedy, ...]:
    """What gives a circuit a ground of the size that is needed; ``least`` is the smallest wire that its breaker allows."""
    cable = wire.cable
    if cable is None:
        return (Remedy(f"Use a grounding conductor of {needed}.", (state(wire.circuit.conductor, "grounding", needed),)),)
    if not cable.knows("type") or cable.type not in _SHEATHED or material_of(wire) is not Material.COPPER:
        return (Remedy(f"Use a grounding conductor of {needed}.", (state(cable, "grounding", needed),)),)
    sold = SOLD_WITH.get(wire.size)
    if sold is not None and _enough(wire, sold, needed):
        words = f"Use {_named(cable, wire.size)} cable as it is sold today, with a ground of {sold}."
        return (Remedy(words, (state(cable, "grounding", sold),)),)
    return tuple(_for_enlarged(wire, cable, needed, least))


def _for_enlarged(wire: Wire, cable: Cable, needed: str, least: str) -> Iterator[Remedy]:
    """No cable of this size has such a ground: another breaker, smaller cable, or wires with a ground of their own."""
    larger = _breaker_that_suits(wire, cable.grounding)
    if larger is not None:
        yield Remedy(
            f"Use a {shown(amperes(larger))} breaker, if the equipment and the receptacle allow it; the ground suits that."
        )
    sold = SOLD_WITH.get(least)
    if sold is not None and least != wire.size:
        yield Remedy(f"Use {_named(cable, least)} cable with its {sold} ground, if the voltage drop allows it.")
    yield Remedy(f"Pull its wires in a raceway, with a grounding conductor of {needed}.")


def _breaker_that_suits(wire: Wire, grounding: str) -> float | None:
    """The largest that the wire allows, where it is larger than the one there is and the ground is large enough for it."""
    try:
        rating = bearing(wire, strict=True, worst=True).limit.rating
    except UnknownFact:  # unknown: no breaker is proposed for a wire whose limit is not told
        return None
    if rating is None or reaches(wire.circuit.breaker.rating, rating) or grounding not in wire.edition.conductors.area:
        return None
    by_table = grounding_conductor(rating, wire.edition, material=material_of(wire), circuit_size=wire.size).size
    return rating if _enough(wire, grounding, by_table) else None


def _enough(wire: Wire, size: str, needed: str) -> bool:
    area = wire.edition.conductors.area
    return reaches(area[size], area[needed])


def _named(cable: Cable, size: str) -> str:
    """``10-2``."""
    gauge = size.removesuffix(" AWG")
    return f"{gauge}-{cable.insulated}" if cable.knows("insulated") else size
