"""A dwelling can be cut off from outdoors.

Why: firefighters cut the power before they put water on a house, and need a disconnect that they find and reach without going in.

Fix: put the service disconnect, or from 2020 to 2023 another marked disconnect ahead of it, outdoors on the house or within
sight of it; at a dwelling fed by a feeder likewise from 2023.

Trap: a small house fed from the main house's panel may have had its disconnect inside, nearest the entry, until 2020; from 2023 it needs
one outdoors. In 2026 an extra emergency disconnect does not help: the service disconnect itself is outdoors.

A feeder that starts in a panel of this plan is served by the disconnect ahead of that panel. A supply by cord is taken for a
feeder, which is contested.

Does not judge: Apartments of a larger building are not meant. That it is readily accessible and grouped with others is checked
on site; its marking in 2026 was not seen.
"""

from collections.abc import Iterator

from nailplate.plan import Pointer, Supply
from nailplate.plan.supplies import Disconnect
from nailplate.plan.words import BuildingKind, DisconnectKind, SupplyKind
from nailplate.remedies.service_side import at_supply
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Operation, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.rules.loads.cord_as_feeder import judged_as_feeder
from nailplate.survey.names import name_of

_LACKS = {
    "outdoors": "is not outdoors",
    "in_sight": "is neither on the house nor within sight of it",
    "marked": "is not marked as the emergency disconnect",
}


@rule(
    id="emergency-disconnect",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SURGE_AND_EMERGENCY,),
    cites={
        "nec-2020": Cite(
            "230.85",
            seen=(2020,),
            note="https://www.ecmag.com/magazine/articles/article-detail/codes-standards-making-code-home",
        ),
        "nec-2023": Cite(
            "230.85, 225.41",
            seen=(2023,),
            note="https://captaincode2023.leviton.com/node/320; https://www.thebuildingcodeforum.com/forum/threads/38202",
        ),
        "nec-2026": Cite(
            "230.70(A)(1), 225.41",
            seen=(2026,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1878 "
            "and 1868",
        ),
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE, Hazard.NO_WAY_OUT),
    dwelling_only=True,
    changes={
        "nec-2020": "New for services of one- and two-family dwellings: a marked disconnect outdoors.",
        "nec-2026": "A feeder's is excepted where the disconnect of the service or outdoor feeder is outdoors within sight already.",
        "irc-2021": "The same for services in chapter 36, since it carries the 2020 text (section from memory: E3601.8).",
    },
)
def emergency_disconnect(supply: Supply, job: Job) -> Outcome:
    """Judges one supply."""
    if supply.kind in (SupplyKind.GENERATOR, SupplyKind.INVERTER) or _is_of_many(job):
        return NotConcerned()
    if supply.kind is not SupplyKind.SERVICE and (
        not job.holds("emergency_disconnect_of_feeders") or supply.knows("starts_at")
    ):
        return NotConcerned()
    return judged_as_feeder(_judged(supply, job), supply)


def _is_of_many(job: Job) -> bool:
    """Only one- and two-family dwellings are meant."""
    return job.plan.basis.is_(building=BuildingKind.MULTIFAMILY)


def _judged(supply: Supply, job: Job) -> Outcome:
    asked = _asked(supply, job)
    candidates = list(_candidates(supply, job))
    lacks = [(name, each, _lacking(each, asked)) for name, each in candidates]
    if any(not missing and not _unknown(each, asked) for _, each, missing in lacks):
        return Pass()
    needs = tuple(need for _, each, missing in lacks if not missing for need in _unknown(each, asked))
    needs += tuple(supply.where(name) for name in _names(supply, job) if not supply.knows(name))
    return Undetermined(needs) if needs else _violation(supply, lacks)


def _asked(supply: Supply, job: Job) -> tuple[str, ...]:
    """What the disconnect must be in this edition."""
    if job.holds("service_disconnect_outdoors"):
        return ("outdoors", "in_sight")
    return ("outdoors", "in_sight", "marked") if job.holds("emergency_disconnect_in_sight") else ("outdoors", "marked")


def _names(supply: Supply, job: Job) -> tuple[str, ...]:
    """The facts of a supply that may state the disconnect meant."""
    only_service = supply.kind is SupplyKind.SERVICE and job.holds("service_disconnect_outdoors")
    return ("disconnect",) if only_service else ("emergency_disconnect", "disconnect")


def _candidates(supply: Supply, job: Job) -> Iterator[tuple[str, Disconnect]]:
    words = {"disconnect": "service disconnect", "emergency_disconnect": "emergency disconnect"}
    if supply.kind is not SupplyKind.SERVICE:
        words["disconnect"] = "feeder's disconnect"
    for name in _names(supply, job):
        if supply.knows(name):
            yield words[name], getattr(supply, name)


def _lacking(disconnect: Disconnect, asked: tuple[str, ...]) -> list[str]:
    """What a disconnect is stated not to be."""
    if disconnect.is_(kind=DisconnectKind.NONE):
        return ["kind"]
    return [name for name in asked if disconnect.knows(name) and not getattr(disconnect, name)]


def _unknown(disconnect: Disconnect, asked: tuple[str, ...]) -> tuple[Pointer, ...]:
    return tuple(disconnect.where(name) for name in asked if not disconnect.knows(name))


def _violation(supply: Supply, lacks: list[tuple[str, Disconnect, list[str]]]) -> Violation:
    said = [f"the {name} {_LACKS[missing[0]]}" for name, _, missing in lacks if missing[0] != "kind"]
    why = "; ".join(said) if said else "none is drawn"
    only_mark = next((each for _, each, missing in lacks if missing == ["marked"]), None)
    patch: tuple[Operation, ...] = (state(only_mark, "marked", value=True),) if only_mark else ()
    words = (
        "Mark it as the emergency disconnect."
        if only_mark
        else "Put the disconnect outdoors on the house, or within sight of it."
    )
    return Violation(
        f"No disconnect for {name_of(supply)} serves firefighters from outdoors: {why}.",
        remedies=(Remedy(words, patch) if only_mark else at_supply(supply, words, patch),),
    )
