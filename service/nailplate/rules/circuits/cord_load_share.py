"""Where a circuit has several outlets, no more than 80 percent of a receptacle's rating is plugged into it permanently.

Why: contacts of a plug that carry their full rating hour after hour heat up, loosen, and heat up more.

Fix: give the appliance a circuit of its own with a single receptacle, or a receptacle of 20 A on a 20 A circuit.

Trap: a 15 A receptacle on a 20 A circuit carries 12 A, not 16 A. A duplex receptacle is two receptacles, so one that stands alone on its
circuit is still one of several, and two machines plugged into it have one each; a single one is neither.

Counted are appliances that keep their place.

Does not judge: portable cord-and-plug appliances, such as kettles, are left to `simultaneous-use`; room air conditioners are
`motor-circuit`'s, cooking and dryers on circuits over 30 A those of their own rules.
"""

from collections.abc import Iterator

from nailplate.plan import Appliance, Circuit, Device
from nailplate.plan.trade import COOLING
from nailplate.plan.words import Connection, DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.loads import Attached, CircuitLoad, fed_by, outlets_by_appliance, total
from nailplate.survey.names import name_of
from nailplate.survey.wiring import MOST_NAMED
from nailplate.units import Amperes, Measure, amperes, reaches, shown, within, written

_DUPLEX = 2


@rule(
    id="cord-load-share",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.BRANCH_LOADS,),
    cites={
        "nec-2017": Cite(
            "210.23(A)(1), 210.21(B)(2)",
            seen=(2017, 2020),
            note="https://electricalcode.net/2023/12/22/article-210-branch-circuits-part-2-branch-circuit-ratings-210-23; "
            "https://forums.mikeholt.com/threads/debate-on-language-of-nec.61191; the 30 A row from memory",
        ),
        "nec-2023": Cite("210.23(B)(1), 210.21(B)(2)", seen=(2023,), note="a public copy of the 2023 code text"),
        "nec-2026": "210.23(B)(1), 210.21(B)(2)",
    },
    needs=("breaker.rating",),
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
    changes={"nec-2023": "The letters of 210.23 move on by one."},
)
def cord_load_share(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """Each receptacle that an appliance keeps plugged into."""
    fed = fed_by(job.survey, circuit)
    if not within(circuit.breaker.rating, job.amperes("cord_load_up_to")):
        yield NotConcerned()
        return
    by_receptacle: dict[str, list[CircuitLoad]] = {}
    for each in fed.loads:
        receptacle = _receptacle_of(each, job) if _is_on_a_cord(each) else None
        if receptacle is not None:
            by_receptacle.setdefault(receptacle.id, []).append(each)
    judged = [_judged(job.plan.devices[key], loads, circuit, fed.outlets, job) for key, loads in by_receptacle.items()]
    yield from judged or [NotConcerned()]


def _is_on_a_cord(load: CircuitLoad) -> bool:
    part = load.part
    if not isinstance(part, Appliance) or load.attached is Attached.CARRIED or part.kind in COOLING:
        return False
    return not part.is_(connection=Connection.HARD_WIRED)


def _receptacle_of(load: CircuitLoad, job: Job) -> Device | None:
    outlets = job.survey.once(outlets_by_appliance).get(load.part.id, ())
    return next((each for each in outlets if each.kind is DeviceKind.RECEPTACLE), None)


def _judged(receptacle: Device, loads: list[CircuitLoad], circuit: Circuit, outlets: int, job: Job) -> Outcome:
    single = outlets == 1 and receptacle.knows("contacts") and receptacle.contacts < _DUPLEX
    if single:
        return NotConcerned(facet=receptacle.id)
    limit = _limit(receptacle, circuit, job)
    if limit is None or not receptacle.knows("rating"):
        return Undetermined((receptacle.where("rating"),), facet=receptacle.id, at=receptacle.pointer)
    fewest, spread = (_spread(loads, contacts) for contacts in _contacts(receptacle, loads))
    most, least = max(_drawn(each)[1] for each in fewest), _drawn(spread[0])[0]
    if within(most, limit):
        return Pass(amperes(_drawn(fewest[0])[0]), amperes(limit), receptacle.id)
    if not within(least, limit) and (outlets > 1 or receptacle.knows("contacts")):
        return _too_much(receptacle, spread[0], least, limit, circuit, job)
    contacts = (receptacle.where("contacts"),) if outlets == 1 or len(loads) > 1 else ()
    unsaid = () if receptacle.knows("contacts") else contacts
    return Undetermined((*unsaid, *total(loads)[2][:MOST_NAMED]), facet=receptacle.id, at=receptacle.pointer)


def _contacts(receptacle: Device, loads: list[CircuitLoad]) -> tuple[int, int]:
    """How many plugs it takes, at least and at most."""
    return (receptacle.contacts, receptacle.contacts) if receptacle.knows("contacts") else (1, len(loads))


def _spread(loads: list[CircuitLoad], contacts: int) -> list[list[CircuitLoad]]:
    """The loads spread evenly over the contacts, the one that surely bears most first."""
    spread: list[list[CircuitLoad]] = [[] for _ in range(min(contacts, len(loads)))]
    for load in sorted(loads, key=lambda each: (-each.least, -each.most)):
        min(spread, key=_drawn).append(load)
    return sorted(spread, key=_drawn, reverse=True)


def _drawn(loads: list[CircuitLoad]) -> tuple[float, float]:
    return total(loads)[:2]


def _limit(receptacle: Device, circuit: Circuit, job: Job) -> Amperes | None:
    """80 percent of the circuit's rating, or what the table allows a receptacle of its rating, whichever is less."""
    share = job.share("cord_load_share") * circuit.breaker.rating
    if not receptacle.knows("rating"):
        return None
    rows = job.edition.receptacle_ratings.cord_load.by_receptacle
    of_its_own = next((limit for rating, limit in rows.items() if within(receptacle.rating, rating)), share)
    return Amperes(min(share, of_its_own))


def _too_much(
    receptacle: Device, loads: list[CircuitLoad], drawn: float, limit: Amperes, circuit: Circuit, job: Job
) -> Violation:
    names = " and ".join(name_of(each.part) for each in loads)
    return Violation(
        f"{names} draw{'s' if len(loads) == 1 else ''} {shown(amperes(drawn))} from {name_of(receptacle)}, rated "
        f"{shown(amperes(receptacle.rating))}, on {name_of(circuit)}; with other outlets on it {shown(amperes(limit))} is the most.",
        amperes(drawn),
        amperes(limit),
        (
            *_two_receptacles(receptacle, loads, limit),
            *_larger_receptacle(receptacle, drawn, circuit, job),
            _own_circuit(loads),
        ),
        facet=receptacle.id,
        at=receptacle.pointer,
        related=tuple(each.part.pointer for each in loads),
    )


def _two_receptacles(receptacle: Device, loads: list[CircuitLoad], limit: Amperes) -> tuple[Remedy, ...]:
    """A duplex for two machines on a single receptacle, where neither draws too much by itself."""
    if len(loads) != _DUPLEX or not receptacle.knows("contacts") or not all(within(each.most, limit) for each in loads):
        return ()
    return (Remedy("Use a duplex receptacle: each machine has one of its two.", (state(receptacle, "contacts", _DUPLEX),)),)


def _own_circuit(loads: list[CircuitLoad]) -> Remedy:
    largest = max(loads, key=lambda each: each.least)
    return Remedy(f"Give {name_of(largest.part)} a circuit of its own with a single receptacle.")


def _larger_receptacle(receptacle: Device, drawn: float, circuit: Circuit, job: Job) -> tuple[Remedy, ...]:
    """A receptacle of the circuit's own rating, where that is enough."""
    rating = circuit.breaker.rating
    enough = within(drawn, job.share("cord_load_share") * rating) and not reaches(receptacle.rating, rating)
    if not enough or rating not in job.edition.receptacle_ratings.by_circuit.get(int(rating), ()):
        return ()
    better: Measure = amperes(rating)
    return (Remedy(f"Use a receptacle rated {shown(better)}.", (state(receptacle, "rating", written(better)),)),)
