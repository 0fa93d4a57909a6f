"""A smoke alarm keeps its distance from cooking, from the door of a bathroom with a tub or shower, from fans and registers.

Why: an alarm that nuisance-alarms at every meal and shower is taken down, and a fan or register blows the smoke away from it.

Fix: move it, or use a photoelectric alarm; in a small house the distance yields before a required alarm is left out,
never the alarm.

Trap: distances go to the door of the bathroom, not to its tub. The residential code of 2024 strikes its distances to cooking;
NFPA 72 keeps its own. Where only a wall lies between, the way around it is longer, and that is read two ways.

Does not judge: where on a ceiling or wall an alarm is mounted, how close to a corner or peak, dead air between joists, and
drafts from windows and doors: for those follow the alarm's instructions and NFPA 72. Heat alarms are left out; where alarms are
required is judged by `smoke-alarm-places`.
"""

from collections.abc import Iterator

from nailplate.plan import Device
from nailplate.plan.words import DeviceKind, Sensing
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Undetermined, at_place
from nailplate.rules.placement.alarm_clearances import (
    Near,
    Nuisance,
    sources_near,
    unplaced_fans,
)
from nailplate.rules.placement.alarm_distances import cooking, too_near_by_code
from nailplate.rules.placement.alarm_spots import (
    CLEAR,
    WIDEST_FAN,
    Asked,
    moved,
    said,
    spot,
)
from nailplate.survey import standing
from nailplate.survey.lights import Placed
from nailplate.survey.names import name_of
from nailplate.units import inches, reaches, shown


@rule(
    id="smoke-alarm-clear-of",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.ALARMS,),
    cites={
        "irc-2018": Cite(
            "R314.3, R314.3.1",
            note="https://www.thebuildingcodeforum.com/forum/threads/36859 (cooking), "
            "https://www.inspect2code.com/2015-residential-code-update-smoke-alarms/ (bathrooms); NFPA 72, edition of 2013: "
            "https://www.ecmag.com/magazine/articles/article-detail/residential-residential-smoke-detection",
        ),
        "irc-2021": Cite(
            "R314.3, R314.3.1",
            note="https://www.thebuildingcodeforum.com/forum/threads/36859 (the mark against nuisance alarms)",
        ),
        "irc-2024": Cite(
            "R310.3",
            note="https://www.thebuildingcodeforum.com/forum/threads/36859 (distances to cooking struck); number from memory",
        ),
    },
    changes={
        "irc-2021": "An alarm marked as helping to reduce cooking nuisance alarms may come as near as 6 ft.",
        "irc-2024": "The distances to cooking are struck; what NFPA 72 and the alarm's instructions require remains.",
    },
    hazards=(Hazard.UNDETECTED_SMOKE,),
    dwelling_only=True,
)
def smoke_alarm_clear_of(alarm: Device, job: Job) -> Iterator[Outcome]:
    """Each thing that one smoke alarm keeps clear of; the nearest of each kind."""
    if alarm.kind is not DeviceKind.SMOKE_ALARM or alarm.is_(sensing=Sensing.HEAT):
        yield NotConcerned()
        return
    placed = Placed(alarm, standing(job.survey, alarm))
    every = sources_near(job.survey, placed)
    for kind in Nuisance:
        near = next((each for each in every if each.source.kind is kind), None)
        yield from at_place(kind.value, None, _JUDGES[kind], placed, near, job)


# The bathroom's door


def _bath(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    if near is None or reaches(near.straight, CLEAR):
        yield Pass(inches(near.straight), inches(CLEAR), "bath") if near else Pass(facet="bath")
    elif near.source.needs:
        yield Undetermined(near.source.needs, facet="bath")
    else:
        door = f"the door of {name_of(near.source.part)}"
        yield too_near_by_code(Asked(alarm, near, near.straight, CLEAR, door), "bath", job)


# Fans and registers


def _fan(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    if near is None or reaches(near.straight, CLEAR + WIDEST_FAN / 2):
        unplaced = unplaced_fans(job.survey)
        yield Undetermined(unplaced, facet="fan") if unplaced else Pass(facet="fan")
        return
    fan = near.source.part
    if reaches(near.straight, CLEAR) and isinstance(fan, Device):
        asked = Asked(alarm, near, near.straight - fan.blade_span / 2, CLEAR, f"the blades of {name_of(fan)}")
    else:
        asked = Asked(alarm, near, near.straight, CLEAR, f"the middle of {name_of(fan)}")
    yield _from_air(asked, "fan", job)


def _register(alarm: Placed, near: Near | None, job: Job) -> Iterator[Outcome]:
    if near is None:
        yield Pass(facet="register")
    else:
        yield _from_air(Asked(alarm, near, near.straight, CLEAR, name_of(near.source.part)), "register", job)


def _from_air(asked: Asked, facet: str, job: Job) -> Outcome:
    if reaches(asked.away, CLEAR):
        return Pass(inches(asked.away), inches(CLEAR), facet)
    at = spot(asked, CLEAR, job)
    return Judgement(
        f"{said(asked)}; NFPA 72 and manufacturers' instructions keep {shown(inches(CLEAR))}. Ask the authority having jurisdiction.",
        readings=(
            Reading("NFPA 72 and the alarm's instructions are part of how it is installed.", "violation"),
            Reading("The residential code itself names no such distance.", "pass"),
        ),
        measured=inches(max(asked.away, 0.0)),
        limit=inches(CLEAR),
        remedies=(moved(asked, at, job),),
        facet=facet,
        related=(asked.near.source.part.pointer,),
    )


_JUDGES = {Nuisance.COOKING: cooking, Nuisance.BATH: _bath, Nuisance.FAN: _fan, Nuisance.REGISTER: _register}
