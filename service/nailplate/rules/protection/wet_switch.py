"""Switches stand outside the wet space of a tub or shower.

Why: whoever stands in the water and reaches for a switch is grounded as well as anybody can be.

Fix: move the switch outside the tub or shower; beside it, even within reach, is allowed.

Trap: the three feet around a tub are a matter of receptacles and hanging luminaires, not of switches. In a wet room with nothing to
hold the water back, the whole room may be the shower.

Does not judge: switches in wet places outdoors, and hydromassage tubs, spas and saunas. The wet space is taken as the outline
of the tub or shower at any height; a switch belongs to a listed assembly where the plan calls it part of an appliance. How far
an open shower wets its room is left to the authority having jurisdiction.
"""

from collections.abc import Iterator

from nailplate.plan import Device, Fixture, Pointer
from nailplate.plan.trade import SWITCHING
from nailplate.plan.words import Enclosure, FixtureKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.survey import Standing, standing
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import (
    Between,
    NearBath,
    baths_in,
    baths_near,
    has_baths,
    place_point,
    undrawn_baths,
)
from nailplate.units import inches, reaches, shown


@rule(
    id="wet-switch",
    over=Device,
    severity=Severity.DANGER,
    subjects=(Subject.TUB_ZONES,),
    cites={
        "nec-2017": Cite(
            "404.4(C)",
            note="https://www.electrical-contractor.net/forums/ubbthreads.php/ubb/printthread/Board/2/main/8440 "
            "(how the trade reads it; edition not named)",
        )
    },
    hazards=(Hazard.SHOCK, Hazard.WATER),
    changes={"nec-2017": "No change of this requirement in any of the four editions was found in print."},
)
def wet_switch(device: Device, job: Job) -> Outcome | Iterator[Outcome]:
    """Judges one switch."""
    if device.kind not in SWITCHING or not has_baths(job.survey):
        return NotConcerned()
    where = standing(job.survey, device)
    near = baths_near(job.survey, where.level, [place_point(where)], job.inches("tub_zone_across"))
    undrawn = undrawn_baths(job.survey, where.room)
    if not (near or undrawn or baths_in(job.survey, where.room)):
        return NotConcerned()
    if device.knows("part_of"):
        return Pass()
    return _judged(device, job, where, near, undrawn)


def _judged(device: Device, job: Job, where: Standing, near: list[NearBath], undrawn: tuple[Pointer, ...]) -> Iterator[Outcome]:
    found = [outcome for each in near if (outcome := _at(device, job, where, each)) is not None]
    yield from found
    if undrawn:
        yield Undetermined(undrawn, f"Whether switch {name_of(device)} is inside the tub or shower, the drawing does not show.")
    elif not found:
        yield Pass(inches(min(each.across for each in near)), inches(0)) if near else Pass()


def _at(device: Device, job: Job, where: Standing, near: NearBath) -> Outcome | None:
    fixture = near.fixture
    if near.over:
        return _inside(device, fixture)
    beside = fixture.kind is FixtureKind.SHOWER and near.between is Between.NOTHING
    if not beside or reaches(near.across, job.inches("tub_zone_across")):
        return None
    if where.room is not job.plan.rooms[fixture.room]:
        return None
    if not fixture.knows("enclosure"):
        return Undetermined((fixture.where("enclosure"),), facet=fixture.id)
    return _beside_open_shower(device, near) if fixture.enclosure is Enclosure.NONE else None


def _inside(device: Device, fixture: Fixture) -> Violation:
    return Violation(
        f"Switch {name_of(device)} is inside the {fixture.kind} {name_of(fixture)} and no part of a listed assembly.",
        remedies=(Remedy("Move the switch out of the tub or shower, best out of reach of whoever stands in it."),),
        facet=fixture.id,
        related=(fixture.pointer,),
    )


def _beside_open_shower(device: Device, near: NearBath) -> Judgement:
    return Judgement(
        f"Switch {name_of(device)} is {shown(inches(near.across))} from the shower {name_of(near.fixture)}, which nothing closes off.",
        readings=(
            Reading("The shower is what is drawn as such; beside it a switch may stand.", "pass"),
            Reading("In a room with an open shower all that gets wet is the shower space.", "violation"),
        ),
        measured=inches(near.across),
        remedies=(Remedy("Put the switch outside the room, or close the shower off with glass, a wall or a curtain."),),
        facet=near.fixture.id,
        related=(near.fixture.pointer,),
    )
