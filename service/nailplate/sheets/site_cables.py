"""Site items of cables: how tight each kind may be bent, and how many staples each takes."""

from collections.abc import Iterator

from nailplate.calc.framing import spaces_in
from nailplate.plan import Cable, UnknownFact
from nailplate.plan.words import How
from nailplate.rulekit import Job
from nailplate.sheets.site_items import SiteFigure, SiteItem
from nailplate.sheets.sixteenths import at_least
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import Run, course_of, sheath_of, spacing_allowed
from nailplate.survey.wiring import cable_length, is_power_cable
from nailplate.units import Inches, count, inches, shown


def cable_items(job: Job) -> Iterator[SiteItem]:
    """Bends by kind of cable, and supports cable by cable."""
    cables = [cable for cable in job.plan.cables.values() if is_power_cable(cable) and cable.knows("type", "size")]
    yield from _bends(job, cables)
    for cable in cables:
        yield from _supports(job, cable)


def _bends(job: Job, cables: list[Cable]) -> Iterator[SiteItem]:
    kinds: dict[tuple[float, float], list[Cable]] = {}
    for cable in cables:
        try:
            sheath = sheath_of(cable)
        except UnknownFact:  # unknown: without its size there is no radius to tell
            continue
        kinds.setdefault((sheath.width, sheath.thickness), []).append(cable)
    for (width, thickness), alike in kinds.items():
        yield _bend(job, Inches(width), Inches(thickness), alike)


def _bend(job: Job, width: Inches, thickness: Inches, alike: list[Cable]) -> SiteItem:
    times = job.number("bend_radius_by_cable")
    edge, flat = Inches(times * width), Inches(times * thickness)
    first = alike[0]
    size = first.size.removesuffix(" AWG")
    kind = f"{first.type} {size}-{first.insulated}" if first.knows("insulated") else f"{first.type} {first.size}"
    eased = f", {at_least(flat)} where it is bent on its flat side" if job.holds("bend_by_side") and flat < edge else ""
    do = f"Bend {kind} to no less than {at_least(edge)} inside radius{eased}; look at turns into holes beside corners and at folds behind boxes."
    figures = (SiteFigure("least inside radius", inches(edge)), SiteFigure("five times its thickness", inches(flat)))
    names = tuple(f"cable {name_of(cable)}" for cable in alike)
    return SiteItem("bends", tuple(cable.pointer for cable in alike), names, do, figures, "NEC 334.24")


def _supports(job: Job, cable: Cable) -> Iterator[SiteItem]:
    interval = spacing_allowed(job.survey, cable)
    counted = staples_of(job.survey, cable)
    if interval is None or counted is None:
        return
    staples, how = counted
    do = f"About {staples} staples each, {how}; no farther apart than {shown(inches(interval))}, none on edge, one cable a staple unless it is marked for more."
    figures = (SiteFigure("staples, about", count(staples)),)
    yield SiteItem("supports", (cable.pointer,), (f"cable {name_of(cable)}",), do, figures, "NEC 334.30, 110.3(B)")


def staples_of(survey: Survey, cable: Cable) -> tuple[int, str] | None:
    """About how many staples a cable takes, and where; None for a kind that has none, or whose length is not known."""
    interval = spacing_allowed(survey, cable)
    if interval is None:
        return None
    runs = course_of(survey, cable)
    if runs and all(run.length is not None for run in runs):
        derived = " (derived: along the route worked out between its ends)" if runs[0].derived else ""
        return _staples(runs, interval), f"on the stretches along framing; bored framing carries the rest{derived}"
    try:
        return spaces_in(cable_length(survey, cable).inches, interval) + 1, "if none of it goes through bored framing"
    except UnknownFact:  # unknown: without a length there are no staples to count
        return None


def _staples(runs: tuple[Run, ...], interval: Inches) -> int:
    """One near each end, and what divides each stretch along framing."""
    along = [
        run.length for run in runs if run.segment.how is not How.BORED and run.segment.how is not How.RACEWAY and run.length
    ]
    return 2 + sum(spaces_in(Inches(length), interval) - 1 for length in along)
