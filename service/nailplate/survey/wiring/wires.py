"""What a circuit's wires may carry, by the strict and the lenient reading of the code, at the least and the most a plan can mean."""

from collections.abc import Iterator
from dataclasses import replace as altered

from nailplate.calc.ampacity import ConductorUse, Method, usable_ampacity
from nailplate.calc.overcurrent import OvercurrentLimit, largest_overcurrent
from nailplate.codes import Column, Edition, Material
from nailplate.plan import Cable, Circuit, Part, Pointer
from nailplate.plan.words import CableType, DeviceKind
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_runs import Stretch, ambient_of, stretches
from nailplate.units import Amperes, reaches, within

METHODS = {
    CableType.NM_B: Method.NM_B,
    CableType.UF_B: Method.UF_B,
    CableType.SE: Method.SE,
    CableType.RACEWAY: Method.RACEWAY,
}
"""The wiring method of a cable as the ampacity calculation knows it."""


@record(frozen=True, slots=True)
class Wire:
    """A wire of the circuit: the cable it is in, if drawn, and the part that a finding is about."""

    circuit: Circuit
    cable: Cable | None
    size: str
    at: Part
    survey: Survey
    edition: Edition

    @property
    def facet(self) -> str:
        """The cable's id where a finding is about a cable and not about the circuit's wire as a whole."""
        return "" if self.at is self.circuit else self.at.id

    @property
    def runs(self) -> tuple[Stretch, ...]:
        """The stretches of its cable, or one of a cable by itself."""
        if self.cable is None:
            ambient = ambient_of(self.circuit)
            return (Stretch((1, 1), (1, 1), (ambient, ambient), (False, True)),)
        return stretches(self.survey, self.cable, self.circuit, self.edition)


@record(frozen=True, slots=True)
class Bearing:
    """What a wire may carry and the largest breaker for it, by one reading of the code and of the plan."""

    ampacity: Amperes
    limit: OvercurrentLimit

    def allows(self, rating: Amperes) -> bool:
        """Whether a breaker of this rating may guard it."""
        return self.limit.rating is not None and within(rating, self.limit.rating)


def bearing(wire: Wire, *, strict: bool, worst: bool, beside: int = 0) -> Bearing:
    """What the wire bears where it is worst off, by one reading and at one end of what the plan can mean. Raises UnknownFact.

    ``beside`` are current-carrying conductors of other cables that are taken to lie with it all along.
    """
    kept = wire.survey.shelf(_bearing)
    key = (wire.circuit.id, wire.cable.id if wire.cable else None, wire.size, wire.edition, strict, worst, beside)
    found = kept.get(key)
    if found is None:
        found = kept[key] = _bearing(wire, strict=strict, worst=worst, beside=beside)
    return found


def _bearing(wire: Wire, *, strict: bool, worst: bool, beside: int) -> Bearing:
    edition = wire.edition
    lying = dict.fromkeys(
        (stretch.current_carrying(strict=strict, most=worst), stretch.ambient[worst], stretch.in_insulation[worst])
        for stretch in wire.runs
    )
    alone = use_of(wire, worst=worst)
    least = min(
        usable_ampacity(
            altered(alone, current_carrying=carrying + beside, ambient=ambient, in_thermal_insulation=insulated), edition
        )
        for carrying, ambient, insulated in lying
    )
    several = several_receptacles(wire.circuit, wire.survey)[worst]
    return Bearing(least, largest_overcurrent(least, wire.size, alone.material, edition, several_receptacles=several))


def use_of(wire: Wire, *, worst: bool) -> ConductorUse:
    """The wire by itself at the table's ambient.

    The worst that the plan can mean is what the code gives where nothing is listed or marked, the best the highest marking.
    """
    method = method_of(wire)
    return ConductorUse(
        size=wire.size,
        material=material_of(wire),
        method=method,
        insulation=column_of(wire.circuit, "insulation") or (None if worst or method is Method.NM_B else Column.C90),
        terminations=column_of(wire.circuit, "terminations") or (None if worst else Column.C75),
    )


def type_of(wire: Wire) -> CableType | None:
    """The wiring method, of the cable or else of the circuit; None where neither is stated."""
    if wire.cable is not None:
        return wire.cable.type if wire.cable.knows("type") else None
    conductor = wire.circuit.conductor if wire.circuit.knows("conductor") else None
    return conductor.type if conductor is not None and conductor.knows("type") else None


def method_of(wire: Wire) -> Method | None:
    """The wiring method as the ampacity calculation knows it; None for one without limits of its own."""
    kind = type_of(wire)
    return METHODS.get(kind) if kind else None


def column_of(circuit: Circuit, name: str) -> Column | None:
    """The temperature rating stated for ``insulation`` or ``terminations``."""
    known = circuit.knows("conductor") and circuit.conductor.knows(name)
    return getattr(circuit.conductor, name) if known else None


def material_of(wire: Wire) -> Material:
    """Copper unless said: cables for branch circuits are sold as copper, the others are marked (common practice)."""
    conductor = wire.circuit.conductor if wire.circuit.knows("conductor") else None
    for part in (wire.cable, conductor):
        if part is not None and part.knows("material"):
            return part.material
    return Material.COPPER


def several_receptacles(circuit: Circuit, survey: Survey) -> tuple[bool, bool]:
    """Whether 240.4(B)(1) bars the next size up: certainly, and possibly. A duplex is two receptacles."""
    return survey.once(_several_receptacles, circuit.id)


def _several_receptacles(survey: Survey, circuit_id: str) -> tuple[bool, bool]:
    circuit = survey.plan.circuits[circuit_id]
    devices = survey.devices_on_circuit.get(circuit.id, [])
    if not devices and not survey.appliances_on_circuit.get(circuit.id):
        return False, True
    found = [each for each in devices if each.kind is DeviceKind.RECEPTACLE]
    sure = sum(each.contacts if each.knows("contacts") else 1 for each in found)
    possible = sum(each.contacts if each.knows("contacts") else 2 for each in found)
    return sure > 1, possible > 1


def open_facts(wire: Wire) -> Iterator[Pointer]:
    """The facts left out that may change the figure."""
    capped = method_of(wire) in (Method.NM_B, Method.UF_B)
    conductor = wire.circuit.pointer / "conductor"
    if type_of(wire) is None:
        yield wire.cable.where("type") if wire.cable is not None else conductor / "type"
    if not capped and column_of(wire.circuit, "terminations") is None:
        yield conductor / "terminations"
    if method_of(wire) is not Method.NM_B and column_of(wire.circuit, "insulation") is None:
        yield conductor / "insulation"
    for stretch in wire.runs:
        yield from stretch.open
    yield from _open_receptacles(wire.circuit, wire.survey)


def _open_receptacles(circuit: Circuit, survey: Survey) -> Iterator[Pointer]:
    sure, possible = several_receptacles(circuit, survey)
    if sure != possible:
        devices = survey.devices_on_circuit.get(circuit.id, [])
        unknown = [
            each.where("contacts") for each in devices if each.kind is DeviceKind.RECEPTACLE and not each.knows("contacts")
        ]
        yield from unknown or [survey.plan.where("devices")]


def least_size(wire: Wire) -> str:
    """The smallest wire of a branch circuit in its material."""
    return wire.edition.size("smallest_copper_wire" if material_of(wire) is Material.COPPER else "smallest_aluminum_wire")


def under_least(wire: Wire) -> bool:
    """Whether it is smaller than any wire of a branch circuit may be."""
    area = wire.edition.conductors.area
    return wire.size in area and not reaches(area[wire.size], area[least_size(wire)])


def has_ampacity(wire: Wire) -> bool:
    """Whether the edition's table has a row for this size and material."""
    return wire.size in wire.edition.ampacity.of(material_of(wire))[Column.C60]
