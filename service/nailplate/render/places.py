"""Where findings are told: by the room that they are in, else by the circuit that they are about, else as the whole house's."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from nailplate.plan import Part, Plan
from nailplate.render.marking import Numbered
from nailplate.review.report import Finding

HOUSE = "The house as a whole"
_SEVERAL = "In several places"


@dataclass(frozen=True, slots=True)
class Place:
    """A room, a circuit or the house, with what is found there, the gravest first."""

    name: str
    groups: list[Numbered] = field(default_factory=list)


def by_place(plan: Plan | None, groups: Iterable[Numbered]) -> list[Place]:
    """Findings by place, the place of the gravest finding first; what is told of several places at once has a place of its own."""
    found: dict[str, Place] = {}
    for number, group in groups:
        names = {place_name(plan, finding) for finding in group}
        name = names.pop() if len(names) == 1 else _SEVERAL
        found.setdefault(name, Place(name)).groups.append((number, group))
    return list(found.values())


def place_name(plan: Plan | None, finding: Finding) -> str:
    """What the place of a finding is called."""
    where = finding.where
    if where.room:
        return _called(plan.rooms.get(where.room) if plan else None, where.room)
    circuit = _circuit(plan, finding)
    if circuit:
        return f"Circuit: {_called(plan.circuits.get(circuit) if plan else None, circuit)}"
    return HOUSE


def _called(part: Part | None, id_: str) -> str:
    return part.label if part is not None and part.knows("label") else id_


def _circuit(plan: Plan | None, finding: Finding) -> str | None:
    """The circuit that a finding's part is, or is on."""
    members = finding.where.pointer.members
    if len(members) < len(("map", "id")):
        return None
    if members[0] == "circuits":
        return members[1]
    parts = getattr(plan, members[0], {}) if plan else {}
    part = parts.get(members[1]) if isinstance(parts, dict) else None
    circuit: str | None = part.circuit if members[0] in _ON_CIRCUITS and part is not None and part.knows("circuit") else None
    return circuit


_ON_CIRCUITS = ("cables", "devices", "appliances")
