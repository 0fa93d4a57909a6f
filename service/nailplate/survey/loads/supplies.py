"""What hangs on a supply: its panels, those fed on from them, their circuits, and what its conductors may carry."""

from collections.abc import Iterator
from typing import TypeVar

from nailplate.calc.ampacity import AmpacityFigures, ConductorUse, Method, ampacity
from nailplate.codes import Column, Edition
from nailplate.plan import Circuit, Panel, Pointer, Supply, UnknownFact
from nailplate.plan.supplies import Conductors
from nailplate.plan.words import Regime, SupplyKind, SupplyVoltage
from nailplate.survey.index import Survey
from nailplate.survey.wiring import METHODS, STANDARD_AMBIENT

Item = TypeVar("Item")
SOURCES = frozenset({SupplyKind.GENERATOR, SupplyKind.INVERTER})


def panels_on(survey: Survey, supply: Supply) -> list[Panel]:
    """The panels that a supply feeds straight."""
    return survey.once(_panels_by_supply).get(supply.id, [])


def panels_behind(survey: Survey, supply: Supply) -> list[Panel]:
    """The panels that a supply feeds, straight and through feeders that start in them; each once, also where they close a ring."""
    found: dict[str, Panel] = {}
    waiting = panels_on(survey, supply)
    while waiting:
        fresh = [panel for panel in waiting if panel.id not in found]
        found.update({panel.id: panel for panel in fresh})
        feeders = [feeder for panel in fresh for feeder in survey.once(_feeders_by_start).get(panel.id, [])]
        waiting = [panel for feeder in feeders for panel in panels_on(survey, feeder)]
    return list(found.values())


def circuits_behind(survey: Survey, supply: Supply) -> list[Circuit]:
    """The circuits of every panel behind a supply."""
    by_panel = survey.once(_circuits_by_panel)
    return [circuit for panel in panels_behind(survey, supply) for circuit in by_panel.get(panel.id, [])]


def circuits_of(survey: Survey, panel: Panel) -> list[Circuit]:
    """The circuits that start at a panel."""
    return survey.once(_circuits_by_panel).get(panel.id, [])


def carries_whole_dwelling(survey: Survey, supply: Supply) -> bool:
    """Whether every circuit of the plan hangs on this supply. Raises UnknownFact where that is not said."""
    if not survey.plan.circuits and len(survey.plan.supplies) > 1:
        raise UnknownFact(survey.plan.where("circuits"))
    behind = {panel.id for panel in panels_behind(survey, supply)}
    if all(_panel_of(survey, circuit).id in behind for circuit in survey.plan.circuits.values()):
        return True
    unsaid = [each for each in unsaid_links(survey) if each != supply.where("starts_at")]
    if unsaid:
        raise UnknownFact(unsaid[0])
    return False


def unsaid_links(survey: Survey) -> tuple[Pointer, ...]:
    """What is left out of the way from supplies to panels: a panel's supply, where a feeder starts."""
    return survey.once(_unsaid_links)


def _unsaid_links(survey: Survey) -> tuple[Pointer, ...]:
    panels = (panel.where("supply") for panel in survey.plan.panels.values() if not panel.knows("supply"))
    supplies = survey.plan.supplies.values()
    feeders = (each.where("starts_at") for each in supplies if each.kind is SupplyKind.FEEDER and not each.knows("starts_at"))
    return (*panels, *feeders)


def _panel_of(survey: Survey, circuit: Circuit) -> Panel:
    panel = survey.plan.panels[circuit.panel]
    if not panel.knows("supply"):
        raise UnknownFact(panel.where("supply"))
    return panel


def feeders_from(survey: Survey, panel: Panel) -> list[Supply]:
    """The feeders that start in a panel."""
    return survey.once(_feeders_by_start).get(panel.id, [])


def has_one_leg(supply: Supply) -> bool:
    """Whether a supply is stated to give 120 V alone, on one leg."""
    return supply.knows("voltage") and supply.voltage is SupplyVoltage.V120


def others_of_its_kind(survey: Survey, supply: Supply) -> list[Supply]:
    """Further supplies of the dwelling that are no feeders within it."""
    return [
        other
        for other in survey.plan.supplies.values()
        if other is not supply and other.kind is supply.kind and not other.knows("starts_at")
    ]


def stands_for_a_dwelling(survey: Survey) -> bool:
    """Whether Chapters 1 to 4 hold for the house as a dwelling; left open by the plan, they are taken to."""
    basis = survey.plan.basis
    return not basis.knows("regime") or basis.regime in (Regime.DWELLING, Regime.UNDECIDED)


def conductor_ampacity(
    conductors: Conductors, edition: Edition, *, best: bool, whole_dwelling: bool = False
) -> AmpacityFigures:
    """What the conductors of a supply may carry. At most three carry current: two legs and, on two legs, an idle neutral.

    Of insulation and terminals that are not said the lowest is taken, or with ``best`` the highest; the table for a whole
    dwelling's conductors is made for terminals of 75 degC.
    """
    method = METHODS.get(conductors.type) if conductors.knows("type") else None
    use = ConductorUse(
        size=conductors.size,
        material=conductors.material,
        method=method,
        insulation=_column(conductors, "insulation") or (Column.C90 if best and method is not Method.NM_B else None),
        terminations=_column(conductors, "terminations") or (Column.C75 if best or whole_dwelling else None),
        ambient=conductors.ambient if conductors.knows("ambient") else STANDARD_AMBIENT,
    )
    return ampacity(use, edition)


def open_conductor_facts(conductors: Conductors) -> tuple[Pointer, ...]:
    """The facts left out that may change that figure."""
    return tuple(conductors.where(name) for name in ("type", "insulation", "terminations") if not conductors.knows(name))


def _column(conductors: Conductors, name: str) -> Column | None:
    return getattr(conductors, name) if conductors.knows(name) else None


def _panels_by_supply(survey: Survey) -> dict[str, list[Panel]]:
    return _by((panel.supply, panel) for panel in survey.plan.panels.values() if panel.knows("supply"))


def _feeders_by_start(survey: Survey) -> dict[str, list[Supply]]:
    return _by((each.starts_at, each) for each in survey.plan.supplies.values() if each.knows("starts_at"))


def _circuits_by_panel(survey: Survey) -> dict[str, list[Circuit]]:
    return _by((each.panel, each) for each in survey.plan.circuits.values() if each.knows("panel"))


def _by(pairs: Iterator[tuple[str, Item]]) -> dict[str, list[Item]]:
    found: dict[str, list[Item]] = {}
    for key, item in pairs:
        found.setdefault(key, []).append(item)
    return found
