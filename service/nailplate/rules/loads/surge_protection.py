"""A dwelling's supply has surge protection at its service, or at the panel that its feeder ends in.

Why: a surge from the line ruins GFCI and AFCI breakers and alarms, and nothing shows that they no longer protect anybody.

Fix: install a Type 1 or Type 2 surge-protective device in or next to the service equipment, or in each panel fed from it; from 2023
with a nominal discharge current rating of 10 kA or more.

Trap: a cottage or small house fed by a feeder from the main house has no service, and until 2020 none of this; from 2023 its own panel
needs the device. A power strip is Type 3 and counts for nothing here.

A supply by cord is taken for a feeder, which is contested.

Does not judge: a feeder within the house to a second panel supplies a part of the dwelling unit and is not meant; one that
carries all of it is. Generators and inverters without a utility are no services.
"""

from collections.abc import Iterator

from nailplate.plan import Panel, Supply, UnknownFact
from nailplate.plan.words import SupplyKind, SurgeProtectionType
from nailplate.remedies.service_side import at_supply
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.rules.loads.cord_as_feeder import judged_as_feeder
from nailplate.survey.loads import carries_whole_dwelling, unsaid_links
from nailplate.survey.names import name_of
from nailplate.units import amperes, reaches, shown

_FIT = frozenset({SurgeProtectionType.TYPE_1, SurgeProtectionType.TYPE_2})


@rule(
    id="surge-protection",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SURGE_AND_EMERGENCY,),
    cites={
        "nec-2020": Cite("230.67", seen=(2020,), note="https://captaincode2020.leviton.com/node/241"),
        "nec-2023": Cite(
            "230.67, 215.18, 225.42",
            seen=(2023,),
            note="https://captaincode2023.leviton.com/node/318; "
            "https://www.necmastery.com/blog/surge-protection-code-changes-201720202023/",
        ),
    },
    hazards=(Hazard.FIRE, Hazard.SHOCK),
    dwelling_only=True,
    changes={
        "nec-2020": "New for the services of dwelling units: a Type 1 or Type 2 device.",
        "irc-2021": "The same for services in chapter 36, since it carries the 2020 text (section from memory: E3606.5).",
    },
)
def surge_protection(supply: Supply, job: Job) -> Outcome | Iterator[Outcome]:
    """Judges one supply."""
    if supply.kind in (SupplyKind.GENERATOR, SupplyKind.INVERTER):
        return NotConcerned()
    if supply.kind is not SupplyKind.SERVICE and not job.holds("surge_protection_of_feeders"):
        return NotConcerned()
    if supply.knows("starts_at") and _carries_a_part(supply, job):
        return NotConcerned()
    return (judged_as_feeder(each, supply) for each in _judged(supply, job))


def _carries_a_part(supply: Supply, job: Job) -> bool:
    try:
        return not carries_whole_dwelling(job.survey, supply)
    except UnknownFact:  # unknown: what it carries is asked for by the rules on its load; a device at it is asked for here
        return False


def _judged(supply: Supply, job: Job) -> Iterator[Outcome]:
    device = supply.surge_protection
    if device.type not in _FIT:
        yield _missing(supply, job)
        return
    yield Pass(facet="type")
    for facet, look in (("rating", _rating), ("place", _place)):
        try:
            yield look(supply, job)
        except UnknownFact as missing:
            yield Undetermined((missing.pointer,), facet=facet)


def _missing(supply: Supply, job: Job) -> Violation:
    none = supply.surge_protection.type is SurgeProtectionType.NONE
    said = "no surge-protective device" if none else "a surge-protective device of Type 3, which is for single appliances"
    panels = _panels(supply, job)
    value = {"type": "2", "nominal_discharge": "10 kA", **({"panel": panels[0].id} if panels else {})}
    return Violation(
        f"The supply {name_of(supply)} of this dwelling has {said}.",
        remedies=(
            at_supply(
                supply,
                "Install a Type 1 or Type 2 device, 10 kA or more, in or next to the equipment.",
                (state(supply, "surge_protection", value),),
            ),
        ),
        facet="type",
    )


def _rating(supply: Supply, job: Job) -> Outcome:
    if not job.holds("surge_protection_of_feeders"):
        return NotConcerned(facet="rating")
    device = supply.surge_protection
    measured, limit = amperes(device.nominal_discharge), job.measure("surge_nominal_discharge")
    if reaches(device.nominal_discharge, job.amperes("surge_nominal_discharge")):
        return Pass(measured, limit, "rating")
    return Violation(
        f"The surge-protective device at {name_of(supply)} has a nominal discharge current rating of {shown(measured)}; "
        f"{shown(limit)} is the least.",
        measured,
        limit,
        (Remedy("Use a device rated 10 kA or more.", (state(device, "nominal_discharge", "10 kA"),)),),
        facet="rating",
    )


# Where it is


def _panels(supply: Supply, job: Job) -> list[Panel]:
    """The panels that a supply feeds straight."""
    return [panel for panel in job.plan.panels.values() if panel.knows("supply") and panel.supply == supply.id]


def _place(supply: Supply, job: Job) -> Outcome:
    at, own = supply.surge_protection.panel, _panels(supply, job)
    if any(panel.id == at for panel in own):
        return Pass(facet="place")
    bare = [panel for panel in _next_level(own, job) if panel.id != at and not _has_its_own(panel, job)]
    if not bare and any(panel.id == at for panel in _next_level(own, job)):
        return Pass(facet="place")
    if unsaid := unsaid_links(job.survey):
        return Undetermined(unsaid, facet="place")
    names = ", ".join(name_of(panel) for panel in bare or own) or "the equipment that it feeds"
    return Violation(
        f"The surge-protective device of {name_of(supply)} is at {name_of(job.plan.panels[at])}; that leaves {names} without one.",
        remedies=(Remedy("Install it in or next to the equipment where the supply ends, or in every panel fed from there."),),
        facet="place",
        related=(job.plan.panels[at].pointer,),
    )


def _next_level(own: list[Panel], job: Job) -> list[Panel]:
    """The panels whose feeders start at one of these."""
    starts = {panel.id for panel in own}
    feeders = {each.id for each in job.plan.supplies.values() if each.is_among(starts_at=starts)}
    return [panel for panel in job.plan.panels.values() if panel.is_among(supply=feeders)]


def _has_its_own(panel: Panel, job: Job) -> bool:
    feeder = job.plan.supplies[panel.supply]
    if not feeder.knows("surge_protection") or feeder.surge_protection.type not in _FIT:
        return False
    return feeder.surge_protection.knows("panel") and feeder.surge_protection.panel == panel.id
