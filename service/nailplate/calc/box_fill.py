"""What the contents of a box count for against its volume, and the metal box that would hold them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from enum import StrEnum

from nailplate.calc.steps import CalculationError, Step, looked_up
from nailplate.codes import BoxShape, Edition
from nailplate.codes.tables import BoxFillAllowances, BoxVolumes
from nailplate.records import record
from nailplate.units import CubicInches, Inches, cubic_inches, reaches


class Run(StrEnum):
    """How a conductor runs in the box."""

    ENDS = "ends"
    PASSES = "passes"
    LOOPED = "looped"
    PIGTAIL = "pigtail"


@record(frozen=True, slots=True)
class Conductors:
    """Insulated conductors of one size. A pigtail lies wholly inside the box and counts for nothing; ``of`` names their cable."""

    size: str
    count: int = 1
    run: Run = Run.ENDS
    of: str = field(default="", compare=False)


@record(frozen=True, slots=True)
class GroundingConductors:
    """Equipment grounding conductors of one size that enter the box; pigtails are left out."""

    size: str
    count: int = 1
    through_canopy: bool = False


@record(frozen=True, slots=True)
class Yoke:
    """One yoke with its device: the largest conductor that ends on it, and its width. ``of`` names the device."""

    size: str
    gangs: int = 1
    of: str = field(default="", compare=False)


@record(frozen=True, slots=True)
class SupportFitting:
    """A luminaire stud or a hickey. All fittings of one kind have one allowance together."""

    kind: str
    size: str | None = None


@record(frozen=True, slots=True)
class FixtureWires:
    """Wires of a luminaire that end in the box. ``of`` names the luminaire."""

    size: str
    count: int = 1
    through_canopy: bool = False
    of: str = field(default="", compare=False)


@record(frozen=True, slots=True, kw_only=True)
class BoxContents:
    """Everything in a box that may count. ``clamp_size`` is for a caller who states the governing size outright."""

    conductors: tuple[Conductors, ...] = ()
    grounding_conductors: tuple[GroundingConductors, ...] = ()
    isolated_grounding: tuple[GroundingConductors, ...] = ()
    yokes: tuple[Yoke, ...] = ()
    internal_clamps: bool = False
    clamp_size: str | None = None
    support_fittings: tuple[SupportFitting, ...] = ()
    fixture_wires: tuple[FixtureWires, ...] = ()
    terminal_blocks: tuple[str, ...] = ()


@record(frozen=True, slots=True)
class FillLine:
    """One kind of content: so many allowances, of so much each."""

    what: str
    how_many: float
    each: CubicInches
    subtotal: CubicInches
    section: str


@record(frozen=True, slots=True)
class CountedVolume:
    """What the contents count for together, and line by line."""

    total: CubicInches
    lines: tuple[FillLine, ...]


@record(frozen=True, slots=True, kw_only=True)
class BoxFill:
    """The whole calculation. ``smallest_by_shape`` leaves out shapes of which no standard box is large enough."""

    counted: CubicInches
    volume: CubicInches | None
    fits: bool | None
    spare: CubicInches | None
    smallest_standard: str | None
    smallest_by_shape: Mapping[BoxShape, str]
    lines: tuple[FillLine, ...]
    steps: tuple[Step, ...]


def box_fill(
    contents: BoxContents,
    edition: Edition,
    *,
    volume: CubicInches | None = None,
    trade_sizes: Sequence[str] = (),
    shape: BoxShape | None = None,
) -> BoxFill:
    """What ``contents`` count for, whether a box of ``volume`` or of ``trade_sizes`` holds it, and the smallest that would.

    Volumes and trade sizes are added together. The smallest box is of ``shape``, else of the shape of the one trade size
    named, else the smallest of the round, square and device boxes.
    """
    counted = counted_volume(contents, edition.box_fill)
    stated = stated_volume(edition.box_volumes, volume, trade_sizes)
    by_shape = smallest_by_shape(counted.total, edition.box_volumes)
    wanted = shape or _one_shape(trade_sizes, edition.box_volumes)
    return BoxFill(
        counted=counted.total,
        volume=stated,
        fits=None if stated is None else reaches(stated, counted.total),
        spare=None if stated is None else CubicInches(stated - counted.total),
        smallest_standard=by_shape.get(wanted) if wanted else _smallest_of(by_shape, edition.box_volumes),
        smallest_by_shape=by_shape,
        lines=counted.lines,
        steps=_steps(counted, stated, edition),
    )


def counted_volume(contents: BoxContents, table: BoxFillAllowances) -> CountedVolume:
    """What ``contents`` count for: the figure that a rule compares with the volume of the box."""
    _refuse_nonsense(contents)
    lines = (
        *_conductor_lines(contents.conductors, table),
        *_fixture_wire_lines(contents.fixture_wires, table),
        *_grounding_lines(contents, table),
        *_clamp_lines(contents, table),
        *_fitting_lines(contents, table),
        *_yoke_lines(contents.yokes, table),
        *_terminal_block_lines(contents.terminal_blocks, table),
    )
    return CountedVolume(CubicInches(sum(line.subtotal for line in lines)), lines)


def run_of_unbroken(length: Inches, table: BoxFillAllowances) -> Run:
    """How an unbroken conductor counts that has ``length`` in the box: once, or twice from the length of a loop on."""
    return Run.LOOPED if reaches(length, table.loop_length) else Run.PASSES


def stated_volume(table: BoxVolumes, volume: CubicInches | None = None, trade_sizes: Sequence[str] = ()) -> CubicInches | None:
    """The volume of a box with its extensions, from the figure marked in it and from trade sizes; None if neither is given."""
    if volume is None and not trade_sizes:
        return None
    return CubicInches((volume or 0.0) + sum(trade_size_volume(each, table) for each in trade_sizes))


def trade_size_volume(trade_size: str, table: BoxVolumes) -> CubicInches:
    """The volume of a metal box, e.g. ``4 x 1-1/2 square``; of one gang where boxes are ganged."""
    every = {name: volume for boxes in table.volumes.values() for name, volume in boxes.items()}
    return looked_up(every, trade_size, "trade size of a metal box")


def smallest_by_shape(counted: CubicInches, table: BoxVolumes) -> dict[BoxShape, str]:
    """The smallest standard metal box of each shape that holds ``counted``."""
    found: dict[BoxShape, str] = {}
    for shape, boxes in table.volumes.items():
        large_enough = [name for name, volume in boxes.items() if reaches(volume, counted)]
        if large_enough:
            found[shape] = min(large_enough, key=boxes.__getitem__)
    return found


# Masonry boxes and cast boxes are for special mountings; nobody is sent to one who did not ask.
_USUAL_SHAPES = (BoxShape.ROUND, BoxShape.SQUARE, BoxShape.DEVICE)


def _smallest_of(by_shape: Mapping[BoxShape, str], table: BoxVolumes) -> str | None:
    usual = [(table.volumes[shape][by_shape[shape]], by_shape[shape]) for shape in _USUAL_SHAPES if shape in by_shape]
    return min(usual, key=lambda each: each[0])[1] if usual else None


def _one_shape(trade_sizes: Sequence[str], table: BoxVolumes) -> BoxShape | None:
    if len(trade_sizes) != 1:
        return None
    return next((shape for shape, boxes in table.volumes.items() if trade_sizes[0] in boxes), None)


def _allowance(size: str, table: BoxFillAllowances) -> CubicInches:
    return looked_up(table.per_conductor, size, "conductor size with a box fill allowance", "4 AWG and larger go by 314.28")


def _largest(sizes: Iterable[str], table: BoxFillAllowances) -> str | None:
    return max(sizes, key=lambda size: _allowance(size, table), default=None)


def _line(what: str, how_many: float, size: str, section: str, table: BoxFillAllowances) -> FillLine:
    each = _allowance(size, table)
    return FillLine(f"{what}, {size}", how_many, each, CubicInches(how_many * each), section)


def _named(what: str, of: str) -> str:
    return f"{what} of {of}" if of else what


_RUN_WORDS = {
    Run.ENDS: "conductors",
    Run.PASSES: "unbroken conductors",
    Run.LOOPED: "unbroken loops (each twice)",
    Run.PIGTAIL: "pigtails",
}


def _conductor_lines(conductors: Iterable[Conductors], table: BoxFillAllowances) -> list[FillLine]:
    weights = {Run.ENDS: 1, Run.PASSES: 1, Run.LOOPED: table.allowances_per_loop, Run.PIGTAIL: 0}
    return [
        _line(
            _named(_RUN_WORDS[each.run], each.of), each.count * weights[each.run], each.size, table.sections.conductors, table
        )
        for each in conductors
        if each.count
    ]


def _fixture_wire_lines(wires: Sequence[FixtureWires], table: BoxFillAllowances) -> list[FillLine]:
    limit = _allowance(table.canopy_wires_smaller_than, table)
    small = [each.through_canopy and _allowance(each.size, table) < limit for each in wires]
    left_out = sum(each.count for each, is_small in zip(wires, small, strict=True) if is_small) <= table.canopy_fixture_wires
    return [
        _line(
            _named("fixture wires", each.of),
            0 if is_small and left_out else each.count,
            each.size,
            table.sections.conductors,
            table,
        )
        for each, is_small in zip(wires, small, strict=True)
        if each.count
    ]


def _grounding_lines(contents: BoxContents, table: BoxFillAllowances) -> list[FillLine]:
    common, isolated = contents.grounding_conductors, contents.isolated_grounding
    if not table.isolated_grounding.counted_apart:
        return _grounding_line("equipment grounding conductors", (*common, *isolated), table)
    return _grounding_line("equipment grounding conductors", common, table) + _grounding_line(
        "isolated equipment grounding conductors", isolated, table
    )


def _grounding_line(what: str, grounds: Sequence[GroundingConductors], table: BoxFillAllowances) -> list[FillLine]:
    # Those out of a domed canopy may be left out, 314.16(B)(1) exception.
    counted = [each for each in grounds if each.count and not each.through_canopy]
    size = _largest((each.size for each in counted), table)
    if size is None:
        return []
    number = sum(each.count for each in counted)
    together = table.grounding_counted_together
    further = 0 if together is None else max(0, number - together)
    how_many = table.allowances_for_grounding + further * table.allowance_per_further_grounding
    return [_line(what, how_many, size, table.sections.grounding_conductors, table)]


def _clamp_lines(contents: BoxContents, table: BoxFillAllowances) -> list[FillLine]:
    if not contents.internal_clamps:
        return []
    size = contents.clamp_size or _largest_present(contents, table, "the internal clamps")
    return [_line("internal clamps", table.allowances_for_clamps, size, table.sections.clamps, table)]


def _fitting_lines(contents: BoxContents, table: BoxFillAllowances) -> list[FillLine]:
    sizes: dict[str, list[str]] = {}
    for fitting in contents.support_fittings:
        sizes.setdefault(fitting.kind, []).append(fitting.size or _largest_present(contents, table, f"the {fitting.kind}"))
    return [
        _line(
            kind,
            table.allowances_per_fitting_kind,
            max(of_kind, key=lambda size: _allowance(size, table)),
            table.sections.support_fittings,
            table,
        )
        for kind, of_kind in sizes.items()
    ]


def _yoke_lines(yokes: Iterable[Yoke], table: BoxFillAllowances) -> list[FillLine]:
    return [
        _line(_named("yoke", each.of), table.allowances_per_gang * each.gangs, each.size, table.sections.yokes, table)
        for each in yokes
    ]


def _terminal_block_lines(sizes: Iterable[str], table: BoxFillAllowances) -> list[FillLine]:
    section = table.sections.terminal_blocks
    return [_line("terminal block", table.allowances_per_terminal_block, size, section, table) for size in sizes]


def _largest_present(contents: BoxContents, table: BoxFillAllowances, what: str) -> str:
    present = [each.size for each in _wires(contents) if each.count]
    size = _largest([*present, *(each.size for each in contents.yokes), *contents.terminal_blocks], table)
    if size is None:
        raise CalculationError(f"{what} count by the largest conductor in the box, and the box has none")
    return size


def _wires(contents: BoxContents) -> tuple[Conductors | GroundingConductors | FixtureWires, ...]:
    return (*contents.conductors, *contents.grounding_conductors, *contents.isolated_grounding, *contents.fixture_wires)


def _refuse_nonsense(contents: BoxContents) -> None:
    if any(each.count < 0 for each in _wires(contents)):
        raise CalculationError("a count of conductors is under zero")
    if any(yoke.gangs < 1 for yoke in contents.yokes):
        raise CalculationError("a device is at least one gang wide")


def _steps(counted: CountedVolume, stated: CubicInches | None, edition: Edition) -> tuple[Step, ...]:
    steps = [
        Step(line.what, cubic_inches(line.subtotal), line.section, f"{line.how_many:g} x {line.each:g} in3")
        for line in counted.lines
    ]
    steps.append(Step("counted volume", cubic_inches(counted.total), edition.box_fill.cite, "the sum of the lines above"))
    if stated is not None:
        steps.append(Step("volume of the box", cubic_inches(stated), edition.box_volumes.cite))
        steps.append(
            Step("spare volume", cubic_inches(stated - counted.total), edition.box_volumes.cite, "volume less counted")
        )
    return tuple(steps)
