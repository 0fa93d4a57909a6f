"""What a cable meets along its route that bears on its ampacity: other cables, warm air, thermal insulation.

A plan may leave facts out and the code's words may be read two ways, so each figure is a span: the least that the plan can mean
and the most, once by the stricter reading and once by the more literal one.
"""

from collections.abc import Iterator
from typing import Final

from nailplate.codes import Edition
from nailplate.plan import Cable, Circuit, Pointer, Segment
from nailplate.plan.trade import TWO_LEGS
from nailplate.plan.words import CableType, How, LevelKind, SupplyVoltage
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.rough_in import drawn_bundle, in_one_hole, lies_in_insulation
from nailplate.terms import Material
from nailplate.units import Celsius, Inches, reaches, within

Span = tuple[int, int]
"""The least and the most."""

STANDARD_AMBIENT: Final = Celsius(30.0)
"""What the ampacity table is made for; a plan that states a warmer place is corrected for it."""
HOTTEST_ATTIC: Final = Celsius(60.0)
"""140 degF: the most that is usually assumed under a roof (common practice), where a plan leaves an attic's air out."""
MOST_IN_CABLE: Final = 4
"""Insulated conductors that a cable may have where the plan does not say it (common practice)."""
WITH_NEUTRAL: Final = 3
ARMORED: Final = (CableType.AC, CableType.MC)
NM_LIKE: Final = (CableType.NM_B, CableType.UF_B)
"""334.80, and 340.10(4) for UF cable inside, which follows it."""


@record(frozen=True, slots=True)
class Stretch:
    """One stretch of a cable. ``strict`` and ``literal`` count current-carrying conductors that lie together, this cable's too."""

    strict: Span
    literal: Span
    ambient: tuple[Celsius, Celsius]
    in_insulation: tuple[bool, bool]
    open: tuple[Pointer, ...] = ()

    def current_carrying(self, *, strict: bool, most: bool) -> int:
        """How many lie together, by one reading."""
        return (self.strict if strict else self.literal)[most]


def stretches(survey: Survey, cable: Cable, circuit: Circuit, edition: Edition) -> tuple[Stretch, ...]:
    """Every stretch of the cable's route; one with nothing around it where no route is drawn."""
    return survey.once(_stretches, cable.id, circuit.id, edition)


def _stretches(survey: Survey, cable_id: str, circuit_id: str, edition: Edition) -> tuple[Stretch, ...]:
    cable, circuit = survey.plan.cables[cable_id], survey.plan.circuits[circuit_id]
    own = tuple(_carrying(survey, cable, strict=strict) for strict in (True, False))
    counted = () if cable.knows("insulated") else (cable.where("insulated"),)
    if not cable.knows("route") or not cable.route:
        ambient = ambient_of(circuit)
        return (Stretch(own[0], own[1], (ambient, ambient), (False, True), (*counted, cable.where("route"))),)
    return tuple(_stretch(survey, cable, circuit, segment, edition) for segment in cable.route)


def ambient_of(circuit: Circuit) -> Celsius:
    """The warmest air that is stated for the circuit as a whole."""
    known = circuit.knows("conductor") and circuit.conductor.knows("ambient")
    return circuit.conductor.ambient if known else STANDARD_AMBIENT


def _stretch(survey: Survey, cable: Cable, circuit: Circuit, segment: Segment, edition: Edition) -> Stretch:
    low, high = _ambient(survey, circuit, segment)
    contact = lies_in_insulation(survey, segment)
    adjusted = [_adjusted(survey, cable, segment, edition, strict=strict) for strict in (True, False)]
    counts = [
        _together(survey, cable, segment, each, strict=strict) for each, strict in zip(adjusted, (True, False), strict=True)
    ]
    missing = [] if cable.knows("insulated") else [cable.where("insulated")]
    missing += [segment.where("ambient")] if low != high else []
    missing += [segment.where("insulation_contact")] if contact is None and _asks_for_insulation(cable) else []
    missing += _open_of_bundle(survey, cable, segment) if adjusted[0] is None else ()
    return Stretch(counts[0], counts[1], (low, high), (contact is True, contact is not False), tuple(missing))


def _asks_for_insulation(cable: Cable) -> bool:
    """Only SE cable's own limit turns on it (338.10(B)(4)); bundles ask for themselves."""
    return not cable.knows("type") or cable.type is CableType.SE


def _ambient(survey: Survey, circuit: Circuit, segment: Segment) -> tuple[Celsius, Celsius]:
    if segment.knows("ambient"):
        return segment.ambient, segment.ambient
    stated = circuit.knows("conductor") and circuit.conductor.knows("ambient")
    usual = ambient_of(circuit)
    return usual, usual if stated or not _under_the_roof(survey, segment) else HOTTEST_ATTIC


def _under_the_roof(survey: Survey, segment: Segment) -> bool:
    level = survey.plan.levels.get(segment.level) if segment.knows("level") else None
    return segment.how is How.ATTIC or (level is not None and level.kind in (LevelKind.ATTIC, LevelKind.ROOF))


# Current-carrying conductors


def carrying_at_most(survey: Survey, cable: Cable) -> int:
    """Current-carrying conductors of a cable by itself, at the most that the plan can mean."""
    return _carrying(survey, cable, strict=True)[1]


def _carrying(survey: Survey, cable: Cable, *, strict: bool) -> Span:
    """Of a cable by itself. A third conductor may be one of two travelers, of which one at a time carries current."""
    kept = survey.shelf(_carrying_alone)
    found = kept.get((cable, strict))
    if found is None:
        found = kept[cable, strict] = _carrying_alone(survey, cable, strict=strict)
    return found


def _carrying_alone(survey: Survey, cable: Cable, *, strict: bool) -> Span:
    if not cable.knows("insulated"):
        return (1, cable.insulated if cable.type is CableType.RACEWAY else MOST_IN_CABLE)
    number = cable.insulated
    with_neutral = cable.knows("second_circuit") or _on_two_legs(survey, cable)
    if number == WITH_NEUTRAL and with_neutral:
        return (number - 1,) * 2 if survey.once(_neutral_idle) else (number,) * 2
    traveler = number >= WITH_NEUTRAL and not with_neutral and not strict
    return (number - 1,) * 2 if traveler else (number,) * 2


def _on_two_legs(survey: Survey, cable: Cable) -> bool:
    if not cable.knows("circuit"):
        return False
    circuit = survey.plan.circuits[cable.circuit]
    two_legs = circuit.knows("voltage") and reaches(circuit.voltage, TWO_LEGS)
    return two_legs and not (circuit.knows("neutral") and not circuit.neutral)


def _neutral_idle(survey: Survey) -> bool:
    """A neutral that carries only what is unbalanced is not counted (310.15(E)), unless two legs of three phases share it."""
    supplies = survey.plan.supplies.values()
    return not any(each.knows("voltage") and each.voltage is SupplyVoltage.V120_208 for each in supplies)


def _together(survey: Survey, cable: Cable, segment: Segment, adjusted: bool | None, *, strict: bool) -> Span:
    own = _carrying(survey, cable, strict=strict)
    if adjusted is False:
        return own
    least, most = _carrying_together(survey, _lying(survey, segment, strict=strict).cables, strict=strict)
    return (least if adjusted else own[0], most)


def _carrying_together(survey: Survey, cables: tuple[Cable, ...], *, strict: bool) -> Span:
    kept = survey.shelf(_carrying_together)
    if (cables, strict) not in kept:
        each = [_carrying(survey, other, strict=strict) for other in cables]
        kept[cables, strict] = (sum(one for one, _ in each), sum(one for _, one in each))
    return kept[cables, strict]


# Bundles


def bundle_name(segment: Segment) -> str | None:
    """The name of the bundle that a stretch is in, if the plan says one."""
    return segment.bundle if segment.knows("bundle") and segment.bundle != "none" else None


def lying_with(survey: Survey, segment: Segment) -> tuple[Cable, ...]:
    """The other cables that lie with a stretch by the strict reading, as it is named or drawn."""
    return tuple(each for each in _lying(survey, segment, strict=True).cables if each.id != segment.pointer.members[1])


def is_bundled_by_closeness(survey: Survey, segment: Segment) -> bool:
    """Whether more cables lie with a stretch by the strict reading of what spacing is than by the literal one."""
    strict, literal = (_lying(survey, segment, strict=strict).cables for strict in (True, False))
    return len(strict) > len(literal)


def most_crowded(survey: Survey, cable: Cable) -> Segment | None:
    """The stretch of a cable that the most others lie with; None where none do."""
    every = [each for each in (cable.route if cable.knows("route") else ()) if lying_with(survey, each)]
    return max(every, key=lambda each: len(lying_with(survey, each)), default=None)


@record(frozen=True, slots=True)
class _Lying:
    """The cables that lie with a stretch, by the name that is typed and as they are drawn, and for how long (None: not known)."""

    cables: tuple[Cable, ...]
    length: Inches | None


def _lying(survey: Survey, segment: Segment, *, strict: bool) -> _Lying:
    """A typed word only adds: cables drawn together are, whatever name they have or deny."""
    return survey.once(_lying_with, segment, strict)


def _lying_with(survey: Survey, segment: Segment, strict: bool) -> _Lying:
    drawn = drawn_bundle(survey, segment, strict=strict)
    hole = in_one_hole(survey, segment) if _said(segment, "sealed") else ()
    lengths = [segment.bundled_length] if segment.knows("bundled_length") else []
    lengths += [drawn.length] if drawn is not None else []
    named = survey.once(_bundles).get(bundle_name(segment) or "", ())
    more = (*(drawn.cables if drawn else ()), *(hole if len(hole) > survey.number("cables_without_adjustment") else ()))
    return _Lying(tuple(dict.fromkeys((*named, *more))) if more else named, max(lengths, default=None))


def _bundles(survey: Survey) -> dict[str, tuple[Cable, ...]]:
    found: dict[str, list[Cable]] = {}
    for cable in survey.plan.cables.values():
        limited = cable.knows("low_voltage") and cable.low_voltage
        for name in dict.fromkeys(bundle_name(segment) for segment in (cable.route if cable.knows("route") else ())):
            if name and not limited:
                found.setdefault(name, []).append(cable)
    return {name: tuple(cables) for name, cables in found.items()}


def _adjusted(survey: Survey, cable: Cable, segment: Segment, edition: Edition, *, strict: bool) -> bool | None:
    """Whether a bundle's ampacity is adjusted here: 334.80 or 310.15(C)(1). None: the plan does not say enough."""
    lying = _lying(survey, segment, strict=strict)
    together = lying.cables
    if len(together) <= 1:
        return False
    short = _short_stretch(survey, cable, lying, strict=strict)
    many = _many_nm(survey, together)
    sealed, contact = (_said(segment, "sealed"), lies_in_insulation(survey, segment)) if many else (False, False)
    long = not within(lying.length, survey.inches("bundled_cables_apart")) if lying.length is not None else None
    if not edition.holds("insulation_bars_short_run_exception"):
        contact = _both(contact, _opposite(short))
    return _either(sealed, contact, _both(long, _opposite(short), _opposite(_relieved(survey, together))))


def _relieved(survey: Survey, cables: tuple[Cable, ...]) -> bool | None:
    """Whether a bundle is of armored cables that are left as they are."""
    kept = survey.shelf(_relieved_together)
    if cables not in kept:
        kept[cables] = _relieved_together(survey, cables)
    return kept[cables]


def _relieved_together(survey: Survey, cables: tuple[Cable, ...]) -> bool | None:
    if not _may_be_relieved(survey, cables):
        return False
    return None if any(_open_of_armor(cables)) else True


def _may_be_relieved(survey: Survey, cables: tuple[Cable, ...]) -> bool:
    """As far as the plan says, with the most conductors that it can mean."""
    armored = all(each.knows("type") and each.type in ARMORED for each in cables)
    copper = all(not each.knows("material") or each.material is Material.COPPER for each in cables)
    size = all(not each.knows("size") or each.size == survey.size("armored_relief_size") for each in cables)
    bare = not any(each.knows("outer_jacket") and each.outer_jacket for each in cables)
    counts = [_carrying(survey, each, strict=True)[1] for each in cables]
    each_most, together_most = survey.number("armored_relief_each"), survey.number("armored_relief_together")
    return armored and copper and size and bare and max(counts) <= each_most and sum(counts) <= together_most


def _open_of_armor(cables: tuple[Cable, ...]) -> Iterator[Pointer]:
    for cable in cables:
        yield from (cable.where(name) for name in ("size", "outer_jacket") if not cable.knows(name))


def _many_nm(survey: Survey, cables: tuple[Cable, ...]) -> bool:
    kept = survey.shelf(_many_nm)
    if cables not in kept:
        like = [cable for cable in cables if not cable.knows("type") or cable.type in NM_LIKE]
        kept[cables] = len(like) > survey.number("cables_without_adjustment")
    return kept[cables]


def _short_stretch(survey: Survey, cable: Cable, lying: _Lying, *, strict: bool) -> bool | None:
    """Whether the exception holds: by the strict reading for this cable alone, by the other for the circuit as a whole."""
    if lying.length is None:
        return None
    if not within(lying.length, survey.inches("short_run_length")):
        return False
    alone = strict or not cable.knows("circuit")
    known, complete = _lengths_of([cable]) if alone else _lengths_on(survey, cable.circuit)
    if within(lying.length, survey.share("short_run_share") * (known - lying.length)):
        return True
    return False if complete else None


def _lengths_on(survey: Survey, circuit: str) -> tuple[float, bool]:
    kept = survey.shelf(_lengths_on)
    if circuit not in kept:
        kept[circuit] = _lengths_of(survey.cables_on_circuit[circuit])
    return kept[circuit]


def _lengths_of(cables: list[Cable]) -> tuple[float, bool]:
    """The lengths that are stated, together, and whether all are."""
    stated = [each.length for each in cables if each.knows("length")]
    return sum(stated), len(stated) == len(cables)


def _open_of_bundle(survey: Survey, cable: Cable, segment: Segment) -> Iterator[Pointer]:
    """What is left out by which it is open whether the bundle's ampacity is adjusted."""
    lying = _lying(survey, segment, strict=True)
    names = ("sealed", "insulation_contact", "bundled_length") if _many_nm(survey, lying.cables) else ("bundled_length",)
    yield from (segment.where(name) for name in names if not segment.knows(name))
    if _may_be_relieved(survey, lying.cables):
        yield from _open_of_armor(lying.cables)
    if not cable.knows("length"):
        yield cable.where("length")


# Three answers: yes, no, not said


def _said(segment: Segment, name: str) -> bool | None:
    return bool(getattr(segment, name)) if segment.knows(name) else None


def _opposite(answer: bool | None) -> bool | None:
    return None if answer is None else not answer


def _both(*answers: bool | None) -> bool | None:
    return False if False in answers else None if None in answers else True


def _either(*answers: bool | None) -> bool | None:
    return True if True in answers else None if None in answers else False
