"""What a plan leaves open about cables that run together: where it does not say it, and with how many conductors at the most."""

from collections.abc import Iterator, Mapping
from typing import Final

from nailplate.plan import Cable, Pointer, Segment
from nailplate.plan.words import CableType, How
from nailplate.survey.index import Survey
from nailplate.survey.wiring import carrying_at_most, is_power_cable

ANY_NUMBER: Final = 1000
"""Conductors beside those of a cable that is not drawn: as many as one likes."""


def states_routes(survey: Survey) -> bool:
    """Whether any power cable of the plan says how it runs."""
    return survey.once(_states_routes)


def open_bundles(cable: Cable) -> tuple[Pointer, ...]:
    """Where it is left out whether a cable is bundled: neither typed (``none`` is a fact) nor drawn in space.

    A run in a raceway of its own is in no bundle.
    """
    if not cable.knows("route"):
        return (cable.where("route"),)
    return tuple(each.where("bundle") for each in cable.route if not _tells(each))


def beside_at_most(survey: Survey, cable: Cable) -> int:
    """Current-carrying conductors of other cables of its kind that may lie with it, as far as the plan says."""
    return survey.once(_conductors)[_in_raceway(cable)] - carrying_at_most(survey, cable)


def _states_routes(survey: Survey) -> bool:
    return any(cable.knows("route") for cable in _power_cables(survey))


def _power_cables(survey: Survey) -> Iterator[Cable]:
    yield from (cable for cable in survey.plan.cables.values() if is_power_cable(cable))


def _conductors(survey: Survey) -> Mapping[bool, int]:
    """The conductors of all cables that may lie together, and of all that are drawn as conductors in a raceway."""
    found = {True: 0, False: 0}
    for cable in _power_cables(survey):
        if not _runs_alone(cable):
            found[_in_raceway(cable)] += carrying_at_most(survey, cable)
    return found


def _runs_alone(cable: Cable) -> bool:
    return cable.knows("route") and all(
        _tells(each) and not (each.knows("bundle") and each.bundle != "none") for each in cable.route
    )


def _tells(segment: Segment) -> bool:
    """Whether a stretch says what lies with it."""
    return segment.how is How.RACEWAY or segment.knows("bundle") or segment.knows("points", "heights")


def _in_raceway(cable: Cable) -> bool:
    return cable.is_(type=CableType.RACEWAY)
