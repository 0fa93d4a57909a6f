"""No wire of a circuit is smaller than the code allows for what it feeds.

Why: thin wire breaks when it is bent and pulled, and its joints loosen and heat.

Fix: use 14 AWG copper or larger, 12 AWG where it is aluminum; for a range 8 AWG and a neutral of 10 AWG at least.

Trap: 18 AWG and 16 AWG are in fixtures, cords and limited-energy cables, never in the wall on a branch circuit.

Does not judge: This rule gives the least size for any circuit and for a range; that a wire is large enough for its breaker is
``conductor-protection``'s to say.
"""

from collections.abc import Iterator
from dataclasses import replace as altered
from typing import Final

from nailplate.codes import Column, Material
from nailplate.plan import Cable, Circuit, UnknownFact
from nailplate.plan.trade import COOKING, POWER_CABLE
from nailplate.plan.wiring import Appliance
from nailplate.plan.words import ApplianceKind
from nailplate.remedies.rewired import conductors_resized, pulled
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Outcome, Pass, Remedy, Undetermined, Violation, at_place, state
from nailplate.survey.loads import fed_by
from nailplate.survey.names import name_of
from nailplate.survey.wiring import Bearing, Wire, bearing, cables_carrying, carried, least_size, material_of, under_least
from nailplate.units import reaches

SIXTEEN: Final = "16 AWG"
NEUTRAL: Final = "neutral"


@rule(
    id="smallest-conductor",
    over=Circuit,
    severity=Severity.DANGER,
    subjects=(Subject.BREAKERS_AND_WIRE,),
    limits=("smallest_copper_wire", "smallest_aluminum_wire"),
    provisions=("small_wire_in_more_uses",),
    cites={
        "nec-2017": Cite("310.106(A), 210.19(A)(3)", note="from memory"),
        "nec-2020": Cite(
            "310.3(A), 210.19(A)(3)", seen=(2020,), note="the range: a public copy of the 2020 text; the rest from memory"
        ),
        "nec-2023": Cite("310.3(A), 210.19(C)", seen=(2023,), note="a public copy of the 2023 code text"),
    },
    hazards=(Hazard.OVERHEATING, Hazard.FIRE),
    changes={
        "nec-2020": "The least sizes moved from 310.106(A) to 310.3(A).",
        "nec-2023": "Ranges moved from 210.19(A)(3) to 210.19(C).",
    },
)
def smallest_conductor(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """One outcome for each cable, or for the circuit's wire while none is drawn; and one for a range's neutral."""
    cables = cables_carrying(job.survey, circuit.id)
    own = tuple(each for each in cables if carried(job.survey, each).known[0] == circuit.id)  # a multiwire cable once
    for cable in own if cables else (None,):
        yield from at_place(cable.id if cable else "", (cable or circuit).pointer, _judged, cable, circuit, job)
    yield from _range_neutral(circuit, job)


def _judged(cable: Cable | None, circuit: Circuit, job: Job) -> Outcome:
    size = cable.size if cable else circuit.conductor.size
    wire = Wire(circuit, cable, size, cable or circuit, job.survey, job.edition)
    if not under_least(wire):
        return Pass(facet=wire.facet)
    if cable is not None and not cable.knows("low_voltage") and not _is_for_power(cable):
        return Undetermined((cable.where("low_voltage"),), facet=wire.facet, at=wire.at.pointer)
    if job.holds("small_wire_in_more_uses") and size == SIXTEEN and material_of(wire) is Material.COPPER:
        return _not_known(wire)
    return _too_small(wire)


def _is_for_power(cable: Cable) -> bool:
    """Whether it is of a type that no limited-energy cable is, and listed on a circuit."""
    return cable.knows("circuit", "type") and cable.type in POWER_CABLE


def _not_known(wire: Wire) -> Outcome:
    said = f"What {wire.size} wire may be used for in this edition is not known here."
    return Undetermined((), said, facet=wire.facet, at=wire.at.pointer)


def _too_small(wire: Wire) -> Outcome:
    least, enough = least_size(wire), _large_enough(wire)
    what = name_of(wire.cable) if wire.cable is not None else f"The wire of circuit {name_of(wire.circuit)}"
    material = material_of(wire).value.replace("_", "-").replace("-aluminum", " aluminum")
    cable, conductor = wire.cable, wire.circuit.conductor if wire.cable is None else None
    patch = (
        pulled(wire.survey, cable, enough, wire.edition)
        if cable
        else tuple(conductors_resized(conductor, enough, wire.edition))
        if conductor
        else ()
    )
    return Violation(
        f"{what} is {wire.size} {material}; the least for a branch circuit is {least}.",
        remedies=(Remedy(f"Use {enough}, or larger where the circuit's other wire is.", patch),),
        facet=wire.facet,
        at=wire.at.pointer,
    )


def _large_enough(wire: Wire) -> str:
    """The smallest size that its breaker may guard, as far as that is known; never under the least."""
    edition, least = wire.edition, least_size(wire)
    if not (wire.circuit.knows("breaker") and wire.circuit.breaker.knows("rating")):
        return least
    for size in edition.conductors.rising(edition.ampacity.of(material_of(wire))[Column.C60]):
        try:
            if _suits(bearing(altered(wire, size=size), strict=True, worst=True), wire):
                return size
        except UnknownFact:  # unknown: only the words of a remedy rest on it; the least size is offered then
            break
    return least


def _suits(borne: Bearing, wire: Wire) -> bool:
    """Whether the breaker may guard it; a circuit for cooking takes no breaker over its wire's ampacity (210.19(A)(3))."""
    rating = wire.circuit.breaker.rating
    cooks = any(each.kind in COOKING for each in fed_by(wire.survey, wire.circuit).appliances)
    return borne.allows(rating) and (not cooks or reaches(borne.ampacity, rating))


# A range's neutral


def _range_neutral(circuit: Circuit, job: Job) -> Iterator[Outcome]:
    """210.19(A)(3) Ex. 2: smaller than the hots, to 70 % of the circuit's rating and 10 AWG."""
    conductor = circuit.conductor if circuit.knows("conductor") else None
    if conductor is None or not conductor.knows("neutral") or not _feeds_range(circuit, job):
        return
    area = job.edition.conductors.area
    least = _least_neutral(circuit, job)
    if reaches(area[conductor.neutral], area[least]):
        yield Pass(facet=NEUTRAL)
        return
    said = f"The neutral of circuit {name_of(circuit)}, which feeds a range, is {conductor.neutral}; the least is {least}."
    patch = (state(conductor, "neutral", least),)
    yield Violation(said, remedies=(Remedy(f"Use a neutral of {least} or larger.", patch),), facet=NEUTRAL)


def _feeds_range(circuit: Circuit, job: Job) -> bool:
    return any(_is_range(each, job) for each in job.survey.appliances_on_circuit.get(circuit.id, []))


def _is_range(appliance: Appliance, job: Job) -> bool:
    return (
        appliance.kind is ApplianceKind.RANGE
        and appliance.knows("power")
        and reaches(appliance.power, job.volt_amperes("large_range"))
    )


def _least_neutral(circuit: Circuit, job: Job) -> str:
    material = material_of(Wire(circuit, None, circuit.conductor.neutral, circuit, job.survey, job.edition))
    table = job.edition.ampacity.of(material)[Column.C60]
    rating = (
        circuit.breaker.rating
        if circuit.knows("breaker") and circuit.breaker.knows("rating")
        else job.amperes("large_range_circuit")
    )
    area = job.edition.conductors.area
    sizes = [size for size in area if size in table and reaches(area[size], area[job.size("range_neutral_size")])]
    return next((size for size in sizes if reaches(table[size], job.share("range_neutral_share") * rating)), sizes[-1])
