"""What to do about a box that is too small or too shallow: a larger one of the same sort, or a ring on it."""

import math

from nailplate.plan import Box
from nailplate.remedies.larger_boxes import (
    deeper_trade_size,
    larger_marking,
    larger_trade_size,
    ring_marking,
    ring_trade_size,
    rounded_up,
)
from nailplate.rulekit import Job, Operation, Remedy, add, state
from nailplate.survey.boxes import trade_size_depth
from nailplate.units import CubicInches, Inches, cubic_inches, inches, shown, written


def larger_box(box: Box, counted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    """A larger box of the same sort, or a ring on this one; either holds the most that the plan can mean."""
    marked = box.knows("volume")
    larger = _marked_larger(box, counted, job) if marked else _standard_larger(box, counted, job)
    ring = _marked_ring(box, counted, job) if marked else _standard_ring(box, counted, job)
    total = shown(cubic_inches(rounded_up(counted)))
    elsewhere = Remedy(f"Bring box and ring to at least {total} in another way, or splice somewhere else.")
    return (*larger, *ring, elsewhere)


def _marked_larger(box: Box, counted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    bigger = cubic_inches(larger_marking(box, counted, job.edition))
    return (Remedy(f"Install a box marked {shown(bigger)} or more.", (state(box, "volume", written(bigger)),)),)


def _standard_larger(box: Box, counted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    size = larger_trade_size(job.survey, box, counted, job.edition)
    return (Remedy(f"Install a {size} box.", (state(box, "trade_size", size),)),) if size else ()


def _marked_ring(box: Box, counted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    added = cubic_inches(ring_marking(job.survey, box, counted, job.edition))
    words = f"{_ring_words(box)} marked {shown(added)} or more, made for this box."
    return (Remedy(words, (_on_ring(box, "volume", written(added)),)),)


def _standard_ring(box: Box, counted: CubicInches, job: Job) -> tuple[Remedy, ...]:
    size = ring_trade_size(job.survey, box, counted, job.edition)
    if size is None or (box.knows("extension") and box.extension.knows("volume")):
        return ()
    return (Remedy(f"{_ring_words(box)}, {size}.", (_on_ring(box, "trade_size", size),)),)


def _ring_words(box: Box) -> str:
    return "Install a larger extension ring" if box.knows("extension") else "Add an extension ring"


def _on_ring(box: Box, name: str, value: object) -> Operation:
    if not box.knows("extension"):
        return add(box.where("extension"), {name: value})
    return state(box.extension, name, value)


def deeper_box(box: Box, wanted: Inches, job: Job) -> tuple[Remedy, ...]:
    """A deeper box. A ring that is on it stays where it is, and is not counted on."""
    wanted = Inches(math.ceil(wanted * 16) / 16)  # so that the figure shown is never short of the one meant
    if not box.knows("trade_size"):
        words = f"Install a box at least {shown(inches(wanted))} deep inside."
        return (Remedy(words, (state(box, "depth", written(inches(wanted))),)),)
    size = deeper_trade_size(box, wanted, job.edition)
    if size is None:
        return ()
    stated = (state(box, "depth", written(inches(trade_size_depth(size)))),) if box.knows("depth") else ()
    return (Remedy(f"Install a {size} box.", (state(box, "trade_size", size), *stated)),)
