"""A stair of six risers or more is lit from every floor level and every landing that it is entered from.

Why: whoever goes up or down a dark stair, or has to come back to switch the light off, falls.

Fix: three-way switches at the foot and the head, four-way ones at landings with an entry; one switch does for up to
five risers.

Trap: risers count, not treads, and all of them between two floor levels, landings or not. One dimmer with an ordinary
three-way switch is not enough: each place must give the full range. A loft stair nearly always has six risers.

Does not judge: stairs outdoors, how well the light reaches each tread, and the lamp. Ladders and ship's ladders, and a light of
the room that serves the stair, are left to the authority having jurisdiction; doors to the outdoors are judged by
`light-exterior-door`.
"""

from nailplate.plan import Device, Pointer, Stair
from nailplate.plan.trade import INDOOR_LEVELS
from nailplate.plan.words import DeviceKind, StairKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Undetermined, Violation
from nailplate.rules.switching.stair_lights import (
    StairPlace,
    is_at,
    lights_beside,
    lights_over,
    missing_places,
    places,
    stair_controls,
)
from nailplate.survey.lights import ControlPoint, lights
from nailplate.survey.names import name_of
from nailplate.units import count


@rule(
    id="stair-switching",
    over=Stair,
    severity=Severity.CODE,
    subjects=(Subject.LIGHTS,),
    cites={
        "nec-2017": Cite(
            "210.70(A)(2)(3) and (4)",
            seen=(2017, 2023),
            note="https://captaincode2023.leviton.com/node/316 (2023; lettered (2)(c) before); dimmers, from 2017: "
            "https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=242",
        ),
    },
    changes={
        "nec-2017": "A dimmer is allowed only where every control place gives its full range.",
        "nec-2020": "Listed wall-mounted control devices count as well as switches.",
        "nec-2023": "The words now speak of a landing with a stairway entry.",
    },
    hazards=(Hazard.DARKNESS, Hazard.TRIP),
    dwelling_only=True,
)
def stair_switching(stair: Stair, job: Job) -> Outcome:
    """210.70(A)(2)(3) and (4), for one stair, all of it between two floor levels."""
    if not _is_inside(stair, job):
        return NotConcerned()
    over = lights_over(job.survey, stair)
    over_points, over_needs = stair_controls(job.survey, over)
    if over_points:
        return _judged(stair, job, over_points, over_needs)
    unplaced = (*over_needs, *lights(job.survey).unplaced)
    if unplaced:
        return Undetermined(tuple(dict.fromkeys(unplaced)))
    beside = lights_beside(job.survey, stair)
    points, needs = stair_controls(job.survey, beside)
    if not points:
        return Undetermined(needs) if needs else _unlit(stair, job, over or beside)
    found = _judged(stair, job, points, needs)
    return _from_the_room(stair, points) if isinstance(found, Pass) else found


def _is_inside(stair: Stair, job: Job) -> bool:
    return all(job.plan.levels[each].kind in INDOOR_LEVELS for each in (stair.lower, stair.upper))


# Which places have a control


def _judged(stair: Stair, job: Job, points: tuple[ControlPoint, ...], needs: tuple[Pointer, ...]) -> Outcome:
    if any(point.automatic for point in points):
        return Pass()
    without = [place for place in places(job.survey, stair) if not _is_controlled(job, points, place)]
    if without:
        open_facts = (*needs, *missing_places(job.survey, points))
        best = _best_lit(job, stair, points)
        dark = [each for each in places(job.survey, stair) if not _is_controlled(job, best, each)]
        return _without(stair, job, dark, best, open_facts)
    return _few_or_whole(stair, job, points)


def _is_controlled(job: Job, points: tuple[ControlPoint, ...], place: StairPlace) -> bool:
    known = (point for point in points if not missing_places(job.survey, (point,)))
    return any(is_at(job.survey, point.device, place) for point in known)


def _few_risers(stair: Stair, job: Job) -> Pass | None:
    """That a switch at each floor level is not required, as so few risers are counted. Raises UnknownFact."""
    most = job.number("risers_without_switch_at_each_level")
    return Pass(count(stair.risers), count(most)) if stair.risers <= most else None


def _without(
    stair: Stair, job: Job, without: list[StairPlace], points: tuple[ControlPoint, ...], needs: tuple[Pointer, ...]
) -> Outcome:
    if stair.kind is StairKind.STAIR and (few := _few_risers(stair, job)):
        return few
    if needs:
        return Undetermined(tuple(dict.fromkeys(needs)))
    at = " or ".join(f"at {place.name}" if place.entry else f"on {place.name}" for place in without)
    named = ", ".join(dict.fromkeys(name_of(point.device) for point in points))
    risers = f"{stair.risers} risers" if stair.knows("risers") else "a climb"
    light = name_of(points[0].outlet)
    message = f"{name_of(stair)} is {risers} between two floors, and its light {light} is switched by {named}, but not {at}."
    remedy = Remedy("Use three-way switches at the foot and at the head, with a four-way switch at each landing between.")
    related = tuple(dict.fromkeys(point.device.pointer for point in points))
    if stair.kind is StairKind.STAIR:
        most = job.measure("risers_without_switch_at_each_level")
        return Violation(message, count(stair.risers), most, (remedy,), related=related)
    if stair.knows("risers") and (few := _few_risers(stair, job)):
        return few
    return _ladder(stair, message, remedy, related)


def _ladder(stair: Stair, message: str, remedy: Remedy, related: tuple[Pointer, ...]) -> Judgement:
    what = {"ladder": "A ladder", "ships_ladder": "A ship's ladder", "alternating_tread": "An alternating tread device"}[
        stair.kind
    ]
    return Judgement(
        f"{message} Ask the authority having jurisdiction.",
        readings=(
            Reading(f"{what} takes the place of a stair to this level, and is lit like one.", "violation"),
            Reading(f"{what} is no stairway.", "pass"),
        ),
        remedies=(remedy,),
        related=related,
    )


# Every place has a control


def _few_or_whole(stair: Stair, job: Job, points: tuple[ControlPoint, ...]) -> Outcome:
    if stair.knows("risers") and (few := _few_risers(stair, job)):
        return few
    if not stair.knows("entries"):
        return Undetermined((stair.where("entries"),))  # a landing with an entry would need a control too
    whole = [own for own in _by_light(points) if all(_is_controlled(job, own, place) for place in places(job.survey, stair))]
    dimmed = [_dimmers(stair, own) for own in whole]
    if None in dimmed:
        most = job.measure("risers_without_switch_at_each_level")
        return Pass(count(stair.risers), most) if stair.knows("risers") else Pass()
    return next((each for each in dimmed if each is not None), None) or _dimmers(stair, points) or _each_its_own(stair, points)


def _by_light(points: tuple[ControlPoint, ...]) -> list[tuple[ControlPoint, ...]]:
    """The control points of each light by itself."""
    outlets = dict.fromkeys(point.outlet for point in points)
    return [tuple(point for point in points if point.outlet is outlet) for outlet in outlets]


def _best_lit(job: Job, stair: Stair, points: tuple[ControlPoint, ...]) -> tuple[ControlPoint, ...]:
    """The control points of the light that the most places switch: the one that a stair's switches were meant for."""
    return max(_by_light(points), key=lambda own: sum(_is_controlled(job, own, place) for place in places(job.survey, stair)))


def _each_its_own(stair: Stair, points: tuple[ControlPoint, ...]) -> Judgement:
    return Judgement(
        f"{name_of(stair)} has a control at every level, but each switches another light; no light over it can be switched "
        "from all of them. Ask the authority having jurisdiction.",
        readings=(
            Reading("Each level has a control that lights the stair, and that is all that is required.", "pass"),
            Reading(
                "The stair's light must be controlled from each level, so that it can be switched off at the other end.",
                "violation",
            ),
        ),
        remedies=(Remedy("Control one light from all levels with three-way switches."),),
        related=tuple(dict.fromkeys(point.device.pointer for point in points)),
    )


def _dimmers(stair: Stair, points: tuple[ControlPoint, ...]) -> Outcome | None:
    """A dimmer is allowed where every place gives its full range; beside an ordinary switch it does not."""
    dimmers = list(dict.fromkeys(point.device for point in points if point.device.kind is DeviceKind.DIMMER))
    open_facts = []
    for dimmer in dimmers:
        if dimmer.is_(full_range=True):
            continue
        if dimmer.knows("full_range") or _works_with_plain(dimmer, points):
            return _half_dimmed(stair, dimmer, name_of(next(each.outlet for each in points if each.device is dimmer)))
        open_facts.append(dimmer.where("full_range"))
    return Undetermined(tuple(open_facts)) if open_facts else None


def _works_with_plain(dimmer: Device, points: tuple[ControlPoint, ...]) -> bool:
    controls = {point.control.id for point in points if point.device is dimmer}
    return any(point.control.id in controls and point.device.kind is DeviceKind.SWITCH for point in points)


def _half_dimmed(stair: Stair, dimmer: Device, light: str) -> Violation:
    return Violation(
        f"The light {light} of {name_of(stair)} is dimmed by {name_of(dimmer)}, and not every place that controls it gives the full range.",
        remedies=(
            Remedy("Use ordinary three-way switches, or dimmers that are listed to give the full range from every place."),
        ),
        related=(dimmer.pointer,),
    )


# No light of its own


def _unlit(stair: Stair, job: Job, outlets: tuple[Device, ...]) -> Outcome:
    if not lights(job.survey).any:
        return Undetermined((Pointer("/devices"),))
    if outlets:
        message = f"No control that counts switches a light at {name_of(stair)} ({name_of(outlets[0])})."
    elif not stair.knows("entries"):
        # The light of a room at its head or foot counts, and which rooms these are is not said.
        return Undetermined((stair.where("entries"),))
    else:
        message = f"No lighting outlet is over {name_of(stair)} or in the rooms at its ends."
    remedy = Remedy("Add a lighting outlet that lights the whole stair, with three-way switches at its foot and head.")
    related = tuple(outlet.pointer for outlet in outlets)
    if stair.kind is StairKind.STAIR:
        return Violation(message, remedies=(remedy,), related=related)
    return _ladder(stair, message, remedy, related)


def _from_the_room(stair: Stair, points: tuple[ControlPoint, ...]) -> Judgement:
    named = name_of(points[0].outlet)
    return Judgement(
        f"No lighting outlet is over {name_of(stair)}; the light of a room at its ends, {named}, is controlled from every place "
        "required. Ask the authority having jurisdiction.",
        readings=(
            Reading("A light that lights the treads is the stair's light, wherever it is mounted.", "pass"),
            Reading("A stair needs a lighting outlet of its own.", "violation"),
        ),
        remedies=(Remedy("Add a lighting outlet over the stair."),),
        related=tuple(dict.fromkeys(point.outlet.pointer for point in points)),
    )
