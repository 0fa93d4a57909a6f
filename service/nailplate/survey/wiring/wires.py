"""The wires of a circuit: where each lies, and its method, material and ratings as the ampacity calculation knows them."""

from collections.abc import Iterator

from nailplate.calc.ampacity import ConductorUse, Method
from nailplate.codes import Column, Edition, Material
from nailplate.plan import Cable, Circuit, Part
from nailplate.plan.words import CableType
from nailplate.records import record
from nailplate.survey.index import Survey
from nailplate.survey.wiring.cable_runs import Stretch, ambient_of, stretches
from nailplate.survey.wiring.wiring_nodes import is_power_cable
from nailplate.units import reaches

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


def wires_of(survey: Survey, circuit: Circuit, edition: Edition) -> Iterator[Wire]:
    """Each cable of a known size that carries the circuit, and its stated conductors."""
    for cable in survey.cables_on_circuit.get(circuit.id, []):
        if is_power_cable(cable) and cable.knows("size"):
            yield Wire(circuit, cable, cable.size, cable, survey, edition)
    if circuit.knows("conductor") and circuit.conductor.knows("size"):
        yield Wire(circuit, None, circuit.conductor.size, circuit, survey, edition)
