"""A house on a service or a feeder has a grounding electrode of its own, and a conductor of the right size to it.

Why: lightning and line faults find the earth through the electrode; without one they find it through the house.

Fix: use the footing's steel, or drive rods, and run the conductor that the table gives for the supply's size.

Trap: a separate small house on a feeder needs its own electrode although its neutral stays isolated. A rod never requires more than 6 AWG
copper, and one rod alone needs a second electrode unless a test on site shows 25 ohms or less; a water pipe always needs one.
A unit on a cord and inlet needs none, nor does one apartment of a building for itself.

Does not judge: for the source of an off-grid house only a stated lack of an electrode is told (from memory), and the size of
its conductor is not judged. Whether every electrode that is there is bonded, how deep rods are driven and how far apart.
"""

from collections.abc import Iterator

from nailplate.calc.electrodes import ElectrodeKind as Ending
from nailplate.calc.electrodes import electrode_conductor
from nailplate.codes import Material
from nailplate.plan import Supply
from nailplate.plan.words import BuildingKind, ElectrodeKind, SupplyKind
from nailplate.remedies.service_side import at_supply
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import (
    Judgement,
    NotConcerned,
    Outcome,
    Pass,
    Reading,
    Remedy,
    Undetermined,
    Violation,
    at_place,
    state,
)
from nailplate.survey.loads import SOURCES, circuits_behind
from nailplate.survey.names import name_of

_ENDINGS = {
    ElectrodeKind.ROD: Ending.ROD,
    ElectrodeKind.PLATE: Ending.ROD,
    ElectrodeKind.CONCRETE_ENCASED: Ending.CONCRETE_ENCASED,
}

_NEED_ANOTHER = {
    ElectrodeKind.ROD: "ground rod",
    ElectrodeKind.PLATE: "ground plate",
    ElectrodeKind.WATER_PIPE: "metal water pipe",
}
_BUS = {
    SupplyKind.SERVICE: "the neutral bus of the service equipment (250.24(A))",
    SupplyKind.FEEDER: "the grounding bar of the panel that it feeds",
}


@rule(
    id="electrode",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.BONDING,),
    cites={
        "nec-2017": Cite(
            "250.50, 250.32(A), 250.53(A)(2), 250.53(D)(2), 250.66",
            seen=(2017,),
            note="https://www.cooper-electric.com/p/service-equipment-grounding-table; https://forums.mikeholt.com/threads/250-66-a.63019; "
            "https://forums.mikeholt.com/threads/gec.2578132/ (a second electrode)",
        ),
        "nec-2020": "250.50, 250.32(A), 250.53(A)(2), 250.53(D)(2), 250.66",
        "nec-2023": Cite(
            "250.50, 250.32(A), 250.53(A)(2), 250.53(D)(2), 250.66",
            seen=(2023,),
            note="a public copy of the 2023 code text (table)",
        ),
        "nec-2026": "250.50, 250.32(A), 250.53(A)(2), 250.53(D)(2), 250.66",
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE),
)
def electrode(supply: Supply, job: Job) -> Iterator[Outcome]:
    """Judges one service, one feeder from elsewhere, or the source of a house without either."""
    if supply.kind in SOURCES:
        yield _at_source(supply, job)
    elif supply.kind not in (SupplyKind.SERVICE, SupplyKind.FEEDER) or supply.knows("starts_at") or _is_within(supply, job):
        yield NotConcerned()
    elif supply.grounding_electrode.kind is ElectrodeKind.NONE:
        yield _missing(supply, job)
    else:
        yield from at_place("", None, _conductor, supply, job)
        if supply.grounding_electrode.kind in _NEED_ANOTHER:
            yield from at_place("second electrode", None, _second, supply)


def _second(supply: Supply) -> Outcome:
    """250.53(A)(2): a single rod or plate, unless it has 25 ohms or less; 250.53(D)(2): a water pipe."""
    electrode = supply.grounding_electrode
    pipe = electrode.kind is ElectrodeKind.WATER_PIPE
    if not pipe and electrode.is_(at_most_25_ohms=True):
        return Pass()
    if not electrode.knows("supplement"):
        either = () if pipe else (electrode.where("at_most_25_ohms"),)
        said = f"Whether a second electrode is bonded to the {_NEED_ANOTHER[electrode.kind]} of {name_of(supply)} is not said."
        return Undetermined((electrode.where("supplement"), *either), said)
    if electrode.supplement is ElectrodeKind.NONE:
        return _alone(supply)
    return _alone(supply) if pipe and electrode.supplement is ElectrodeKind.WATER_PIPE else Pass()


def _alone(supply: Supply) -> Violation:
    electrode = supply.grounding_electrode
    pipe = electrode.kind is ElectrodeKind.WATER_PIPE
    why = "a water pipe may be replaced with plastic" if pipe else "it is not known to have 25 ohms or less"
    words = (
        "Drive a rod and bond it to the electrode conductor" if pipe else "Drive a second rod, 6 ft or more away, and bond both"
    )
    return Violation(
        f"The only electrode of {name_of(supply)} is one {_NEED_ANOTHER[electrode.kind]}; {why}, and a second electrode is required.",
        remedies=(at_supply(supply, f"{words}.", (state(electrode, "supplement", ElectrodeKind.ROD.value),)),),
    )


def _conductor(supply: Supply, job: Job) -> Outcome:
    kind = supply.grounding_electrode.kind
    needed = electrode_conductor(
        supply.conductors.size, job.edition, supply.conductors.material, _ENDINGS.get(kind, Ending.OTHER)
    ).size
    if supply.grounding_electrode.isnt(material=Material.COPPER):
        return Undetermined((), "Electrode conductors other than copper are not evaluated.")
    if not job.edition.conductors.larger(needed, supply.grounding_electrode.conductor):
        return Pass()
    return _too_thin(supply, needed)


def _at_source(supply: Supply, job: Job) -> Outcome:
    """Where a house is supplied only by a source of its own, whether it needs an electrode depends on how the source is set up."""
    basis = job.plan.basis
    moves = basis.is_(on_wheels=True)
    alone = all(other.kind in SOURCES for other in job.plan.supplies.values())
    if moves or not alone or not supply.knows("grounding_electrode"):
        return NotConcerned()
    if supply.grounding_electrode.kind is not ElectrodeKind.NONE:
        return Pass()
    return Judgement(
        f"The house is supplied only by {name_of(supply)} and has no grounding electrode.",
        (
            Reading("A source wired into a house is grounded at an electrode of the house (250.20(B), 250.30).", "violation"),
            Reading("A portable source that is plugged in needs none (250.34).", "pass"),
        ),
        remedies=(Remedy("Drive rods, or connect the footing's steel, and bond them where the neutral is bonded."),),
    )


def _is_within(supply: Supply, job: Job) -> bool:
    """A feeder to one unit of a larger building, whose electrode is that of the building."""
    basis = job.plan.basis
    shared = basis.is_among(building=(BuildingKind.TWO_FAMILY, BuildingKind.MULTIFAMILY))
    return shared and supply.kind is SupplyKind.FEEDER


def _missing(supply: Supply, job: Job) -> Outcome:
    if supply.kind is SupplyKind.FEEDER and len(circuits_behind(job.survey, supply)) == 1:
        return NotConcerned()  # 250.32(A), exception: one branch circuit with a grounding conductor
    return Violation(
        f"{name_of(supply)} has no grounding electrode at this house.",
        remedies=(
            at_supply(
                supply,
                f"Connect the footing's reinforcing steel, or drive two rods, and run the conductor to {_BUS[supply.kind]}.",
            ),
        ),
    )


def _too_thin(supply: Supply, needed: str) -> Violation:
    return Violation(
        f"The {supply.grounding_electrode.conductor} conductor to the electrode of {name_of(supply)} is too small for "
        f"{supply.conductors.size} {supply.conductors.material.value.replace('_', '-')} supply conductors: {needed} copper is the least.",
        remedies=(
            at_supply(supply, f"Use {needed} copper or larger.", (state(supply.grounding_electrode, "conductor", needed),)),
        ),
    )
