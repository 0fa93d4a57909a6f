"""A circuit of several outlets has a rating that the code knows, feeds what that rating may, and is not loaded past it.

Why: lampholders and receptacles are made for 15 A and 20 A; on a larger breaker they burn before it opens. A circuit loaded past its
rating trips at best.

Fix: feed lights and small equipment from 15 A or 20 A circuits, large equipment from its own, and move load until the rest fits.

Trap: what has a circuit to itself may have any rating that suits it. On 30 A no light may be, on 40 A and 50 A fixed cooking equipment
alone. 25 A, 35 A and 45 A circuits are for one outlet only.

Counted are lights and equipment fastened in place by their nameplates, and on general circuits what stands there on a cord.

Does not judge: portable cord-and-plug loads, left to `simultaneous-use`; cooking, water heating, fixed heat, motors and
vehicle charging alone on a circuit have rules of their own. 10 A circuits are `ten-ampere-circuit`'s from 2023 on.
"""

from collections.abc import Iterator

from nailplate.plan import Circuit, Device, Part
from nailplate.plan.trade import RESERVED_CIRCUITS
from nailplate.remedies.changed_breakers import on_breaker
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Line, NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.loads import Attached, CircuitLoad, Fed, Trade, fed_by, total
from nailplate.survey.names import name_of, names_of
from nailplate.survey.wiring import MOST_NAMED
from nailplate.units import Amperes, amperes, reaches, shown, within

_NAMED = 3
_SEVERAL = 2


@rule(
    id="permissible-load",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.BRANCH_LOADS,),
    cites={
        "nec-2017": Cite(
            "210.23, 210.3",
            seen=(2017,),
            note="https://electricalcode.net/2023/12/22/article-210-branch-circuits-part-2-branch-circuit-ratings-210-23",
        ),
        "nec-2020": Cite(
            "210.23, 210.18",
            seen=(2020,),
            note="https://electricalcode.net/2023/12/22/article-210-branch-circuits-part-2-branch-circuit-ratings-210-23",
        ),
        "nec-2023": Cite("210.23, 210.18", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "210.23, 210.18",
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERLOAD, Hazard.OVERHEATING, Hazard.FIRE),
    changes={
        "nec-2020": "The list of ratings moves from 210.3 to 210.18.",
        "nec-2023": "The letters of 210.23 move on by one.",
    },
)
def permissible_load(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """210.23: the rating, what is on it, and how much."""
    fed = fed_by(job.survey, circuit)
    if not fed.outlets:
        yield NotConcerned()
        return
    if _is_heats(fed):
        yield NotConcerned()  # fixed-heat-circuit: 424 has ratings of its own
        return
    rating = circuit.breaker.rating
    unsaid = fed.may_be_no_further if fed.outlets - len(fed.may_be_no_further) < _SEVERAL else ()
    if fed.outlets >= _SEVERAL and _is_unknown(rating, fed, job):
        yield Undetermined(unsaid, facet="rating") if unsaid else _no_such_rating(circuit, fed, job)
        return
    barred = _barred(rating, fed, job) if fed.outlets >= _SEVERAL else []
    if barred:
        yield Undetermined(unsaid, facet="kind") if unsaid else _wrong_kind(circuit, barred, job)
        return
    yield _sum(circuit, fed, job)


def _is_heats(fed: Fed) -> bool:
    """Fixed electric heat alone."""
    return not fed.free and all(each.trade is Trade.HEAT for each in fed.loads)


def _usual(job: Job) -> tuple[Amperes, ...]:
    return job.ratings("several_outlets_ratings")


def _for_cooking(job: Job) -> tuple[Amperes, ...]:
    return job.ratings("cooking_outlets_ratings")


def _ratings(job: Job) -> tuple[Amperes, ...]:
    return (*_usual(job), *job.ratings("several_outlets_without_lights"), *_for_cooking(job))


def _is_one_of(rating: Amperes, ratings: tuple[Amperes, ...]) -> bool:
    return any(within(rating, each) and reaches(rating, each) for each in ratings)


# The rating


def _is_unknown(rating: Amperes, fed: Fed, job: Job) -> bool:
    if job.holds("ten_ampere_circuits") and within(rating, job.amperes("ten_ampere_rating")):
        return False
    large = not within(rating, _for_cooking(job)[-1]) and not fed.lights
    return not _is_one_of(rating, _ratings(job)) and not large


def _no_such_rating(circuit: Circuit, fed: Fed, job: Job) -> Violation:
    rating = circuit.breaker.rating
    cooks = all(each.trade is Trade.COOKING for each in fed.loads) and not fed.free
    allowed = _ratings(job) if cooks else _usual(job)
    nearest = next((each for each in allowed if reaches(each, rating)), allowed[-1])
    load, _, _ = total(_counted(circuit, fed))
    change = on_breaker(circuit, nearest, job.survey) if within(load, nearest) else ()
    return Violation(
        f"{name_of(circuit)} feeds {fed.outlets} outlets from a {shown(amperes(rating))} breaker; circuits of several outlets are rated "
        f"15 A, 20 A, 30 A, 40 A or 50 A.",
        amperes(rating),
        amperes(nearest),
        change or (Remedy("Give the large loads circuits of their own, and feed the rest from 15 A or 20 A."),),
        facet="rating",
    )


# What it may feed


def _barred(rating: Amperes, fed: Fed, job: Job) -> list[Part]:
    """What a circuit of this rating may not feed beside other outlets."""
    if within(rating, _usual(job)[-1]):
        return []
    lights = [each.part for each in fed.attached(Attached.LIGHTING)]
    if not _is_one_of(rating, _for_cooking(job)):
        return [*lights]
    others = [each.part for each in fed.loads if each.attached is not Attached.LIGHTING and each.trade is not Trade.COOKING]
    return [*lights, *others]


def _wrong_kind(circuit: Circuit, barred: list[Part], job: Job) -> Violation:
    rating = amperes(circuit.breaker.rating)
    cooking = _is_one_of(circuit.breaker.rating, _for_cooking(job))
    may = "fixed cooking equipment alone" if cooking else "equipment and no lights in a dwelling"
    words = (
        "Feed them from a 15 A or 20 A circuit."
        if all(isinstance(each, Device) for each in barred)
        else ("Give each of them a circuit of its own.")
    )
    return Violation(
        f"{name_of(circuit)} is rated {shown(rating)} and feeds {names_of(barred, _NAMED)}; such a circuit of several outlets may feed {may}.",
        rating,
        remedies=(Remedy(words),),
        facet="kind",
        related=tuple(each.pointer for each in barred),
    )


# How much


def _sum(circuit: Circuit, fed: Fed, job: Job) -> Outcome:
    counted = _counted(circuit, fed)
    if not counted or (len(counted) == 1 and counted[0].trade is not Trade.OTHER):
        return NotConcerned(facet="load")
    least, most, needs = total(counted)
    rating = circuit.breaker.rating
    if within(most, rating):
        return Pass(amperes(least), amperes(rating), "load")
    if within(least, rating):
        return Undetermined(needs[:MOST_NAMED], facet="load", lines=_lines(counted))
    return Violation(
        f"{name_of(circuit)} is rated {shown(amperes(rating))}; what is wired to it draws {shown(amperes(least))}.",
        amperes(least),
        amperes(rating),
        _lighter(circuit, counted, least, job),
        _lines(counted),
        "load",
    )


def _counted(circuit: Circuit, fed: Fed) -> list[CircuitLoad]:
    cords = not circuit.is_among(purpose=RESERVED_CIRCUITS)
    ways = (Attached.LIGHTING, Attached.FASTENED, *((Attached.CORD,) if cords else ()))
    cooking = [each for each in fed.loads if each.trade is Trade.COOKING]
    if len(cooking) > 1:  # together one range, which range-circuit works out
        return [each for each in fed.attached(*ways) if each.trade is not Trade.COOKING]
    return list(fed.attached(*ways))


def _lighter(circuit: Circuit, counted: list[CircuitLoad], least: float, job: Job) -> tuple[Remedy, ...]:
    heaviest = max(counted, key=lambda each: each.least)
    move = Remedy(f"Move {name_of(heaviest.part)}, {shown(amperes(heaviest.least))}, to another circuit.")
    larger = next((each for each in _usual(job) if reaches(each, least)), None)
    fastened = sum(each.least for each in fed_by(job.survey, circuit).attached(Attached.FASTENED))
    shared = (
        fed_by(job.survey, circuit).free
        and larger is not None
        and not within(fastened, job.share("fastened_load_share") * larger)
    )
    return (*(on_breaker(circuit, larger, job.survey) if larger and not shared else ()), move)


def _lines(counted: list[CircuitLoad]) -> tuple[Line, ...]:
    known = [each for each in counted if each.least > 0]
    return tuple(Line(name_of(each.part), 1, amperes(each.least), amperes(each.least), "220.14") for each in known)
