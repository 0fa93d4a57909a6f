"""Dishwashers, sump pumps, cooking appliances, dryers and microwave ovens are protected from ground faults, hard-wired or not.

Why: a failing heating element or wet motor puts current on the frame that people touch, with a sink, a pipe or wet soil within reach, and
the machine goes on running as if nothing were wrong.

Fix: use a GFCI breaker for the appliance's circuit, or a GFCI device ahead of its outlet.

Trap: looking at receptacles alone. From 2023 a hard-wired cooktop in a tiny kitchen needs protection although it has no receptacle
at all; a device in the cord served in 2020, and serves no more.

Does not judge: receptacles by their place (`gfci-locations`), units outdoors (`gfci-outdoor-outlets`), appliances that the
edition does not list, and circuits over the amperes that it names. Whether the device can be reached is judged by
`gfci-reachable`.
"""

from nailplate.codes import GfciItem
from nailplate.codes.gfci_tables import GfciAppliance
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind, DeviceKind, Fuel, Regime
from nailplate.remedies.ground_fault_devices import at_breaker, remedies, unprotected
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation, state
from nailplate.survey.names import kind_words, name_of
from nailplate.survey.protection import GroundFaultProtection, appliance_protection, outlets_of
from nailplate.units import reaches, within

_NO_ITEM = "no item"
TWO_LEGS = 200.0
"""Volts from which an appliance takes both legs."""


@rule(
    id="gfci-appliances",
    over=Appliance,
    severity=Severity.DANGER,
    subjects=(Subject.GFCI_OTHER,),
    cites={
        "nec-2017": Cite("210.8(D)", seen=(2017,), note="https://forums.mikeholt.com/threads/2559641"),
        "nec-2020": Cite(
            "210.8(D), 422.5(A)",
            seen=(2020,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=810",
        ),
        "nec-2023": Cite(
            "210.8(D)",
            seen=(2023,),
            note="http://eaton.rs/us/en-us/markets/residential/nec-2023-updates/210-8d-appliances-gfci-requirements.html; "
            "https://captaincode2023.leviton.com/node/308",
        ),
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    changes={
        "nec-2020": "210.8(D) points to the list of 422.5(A): sump pumps came in, and a device in the plug, the cord or the "
        "appliance serves.",
        "nec-2023": "A list of twelve in 210.8(D): electric ranges, wall ovens, counter cooktops, dryers and microwave ovens came in, "
        "and the branch circuit or outlet itself is protected.",
    },
)
def gfci_appliances(appliance: Appliance, job: Job) -> Outcome:
    """Judges one appliance."""
    listed = job.edition.gfci_appliances.kinds.get(appliance.kind)
    if listed is None or not listed.applies or _goes_by_place(appliance, job):
        return NotConcerned()
    protection = appliance_protection(job.survey, appliance)
    protected = protection.source is not None or (
        job.edition.gfci_appliances.built_in_serves and appliance.is_(gfci_built_in=True)
    )
    if protected and not appliance.knows("fuel"):
        return Pass()  # whatever it burns
    if _is_left_out(appliance, listed, job):
        return NotConcerned()
    if protected:
        return Pass()
    if _is_too_large(protection, job):
        return NotConcerned()
    if protection.unknown:
        needs = (appliance.where("gfci_built_in"),) if _may_have_own(appliance, job) else ()
        return Undetermined((*protection.unknown, *needs), _asked(appliance))
    if _may_have_own(appliance, job):
        return Undetermined((appliance.where("gfci_built_in"),), _asked(appliance))
    return _unprotected(appliance, job, listed, protection)


def _is_left_out(appliance: Appliance, listed: GfciAppliance, job: Job) -> bool:
    """A gas range; in 2017 whatever is not in a dwelling unit."""
    if listed.only_electric and not _is_electric(appliance):
        return True
    return not job.holds("gfci_appliances_everywhere") and job.plan.basis.is_(regime=Regime.NOT_A_DWELLING)


def _is_electric(appliance: Appliance) -> bool:
    """As it says; of one on 240 V it need not be said, since a gas range draws from 120 V. Raises UnknownFact."""
    if not appliance.knows("fuel") and appliance.knows("volts") and reaches(appliance.volts, TWO_LEGS):
        return True
    return appliance.fuel is Fuel.NONE


def _goes_by_place(appliance: Appliance, job: Job) -> bool:
    """Whether a machine that washes and dries, dryer or not, is plugged in where 210.8(A) asks for protection anyway: a laundry."""
    if appliance.kind is not ApplianceKind.WASHER_DRYER or not job.edition.gfci_locations.items[GfciItem.LAUNDRY].applies:
        return False
    return any(each.kind is DeviceKind.RECEPTACLE for each in outlets_of(job.survey, appliance))


def _may_have_own(appliance: Appliance, job: Job) -> bool:
    return job.edition.gfci_appliances.built_in_serves and not appliance.knows("gfci_built_in")


def _is_too_large(protection: GroundFaultProtection, job: Job) -> bool:
    largest = job.edition.gfci_appliances.amperes
    ratings = [each.breaker.rating for each in protection.circuits if each.knows("breaker") and each.breaker.knows("rating")]
    return bool(ratings) and not within(min(ratings), largest)


def _asked(appliance: Appliance) -> str:
    return f"{_called(appliance)} needs GFCI protection; the plan does not say whether its circuit or outlet has it."


def _called(appliance: Appliance) -> str:
    return f"The {kind_words(appliance.kind)} {name_of(appliance)}"


def _unprotected(appliance: Appliance, job: Job, listed: GfciAppliance, protection: GroundFaultProtection) -> Outcome:
    section = "A local amendment" if listed.section == _NO_ITEM else listed.section
    circuits = " or ".join(f"the breaker of circuit {name_of(circuit)}" for circuit in unprotected(protection.circuits))
    message = (
        f"{_called(appliance)} has no GFCI protection. {section} lists it, hard-wired or not; neither {circuits} nor a device "
        "ahead of its outlet gives any."
    )
    related = tuple(each.pointer for each in outlets_of(job.survey, appliance))
    ways = _remedies(appliance, job, protection)
    if appliance.kind is ApplianceKind.WASHER_DRYER:
        readings = (
            Reading("A machine that washes and dries is a clothes dryer too, and needs GFCI protection.", "violation"),
            Reading("It is a clothes washer, and the list names dryers only; its receptacle is judged by its place.", "pass"),
        )
        return Judgement(message, readings, remedies=ways, related=related)
    return Violation(message, remedies=ways, related=related)


def _remedies(appliance: Appliance, job: Job, protection: GroundFaultProtection) -> tuple[Remedy, ...]:
    outlets = outlets_of(job.survey, appliance)
    if outlets:
        ways = remedies(outlets[0], job.survey, protection, outlets[:1])
    else:
        ways = (at_breaker(job.survey, unprotected(protection.circuits), appliance),)
    if not job.edition.gfci_appliances.built_in_serves:
        return ways
    own = Remedy("Use one with a GFCI in itself, its plug or its cord.", (state(appliance, "gfci_built_in", value=True),))
    return (*ways, own)
