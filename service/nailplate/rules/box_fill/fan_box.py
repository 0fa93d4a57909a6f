"""A ceiling fan is supported by a box that is listed for it, and a ceiling box where a fan could come later is listed for one.

Why: a fan shakes for years; a box that was made for a lamp works loose and lets it fall.

Fix: use a box listed and marked for a fan, or one through which framing that can hold a fan is reached.

Trap: a box marked only as fan-rated supports 35 lb; a heavier fan needs its weight marked in the box, and over 70 lb it is supported from
the structure. From 2020 the center box of a bedroom counts, whatever hangs there now.

Does not judge: where a fan could hang, which the code does not say. Inspectors are reported to require it from every box 3 ft from
the walls to none; below 7 ft, where blades would be in reach, and within 3 ft of a wall, this rule does not ask.
"""

from collections.abc import Iterator

from nailplate.plan import Box, Device, Plan
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, each_of, state
from nailplate.rules.box_fill.fan_ready import for_later
from nailplate.survey.boxes import Spot, spot_of
from nailplate.survey.names import name_of
from nailplate.units import Pounds, pounds, shown, within, written


@rule(
    id="fan-box",
    over=Plan,
    severity=Severity.CODE,
    subjects=(Subject.BOX_SUPPORT,),
    cites={
        "nec-2017": Cite(
            "314.27(C)",
            seen=(2017, 2020, 2023),
            note="https://forums.mikeholt.com/threads/314-27.2581560, https://forums.mikeholt.com/threads/314-27.2582558 and "
            "http://electricalcodeconnection.com/outlet-boxes-for-ceiling-fans-314-27-c-2011-nec/",
        )
    },
    hazards=(Hazard.FALLING_LOAD,),
    changes={"nec-2023": "Framing counts only if it is reached through the box, without taking it out."},
)
def fan_box(plan: Plan, job: Job) -> Iterator[Outcome]:
    """314.27(C): each box by itself, and each fan that has none."""
    yield from each_of(plan.boxes.values(), _of_box, job)
    fans = [device for device in plan.devices.values() if device.kind is DeviceKind.FAN]
    yield from each_of((fan for fan in fans if not fan.knows("box")), _without_box)


def _of_box(box: Box, job: Job) -> Outcome:
    fans = [device for device in job.survey.devices_in_box.get(box.id, []) if device.kind is DeviceKind.FAN]
    spot = spot_of(job.survey, box)
    if fans and spot is not Spot.WALL:
        return _with_fan(fans[0], box, job)
    return for_later(box, job) if spot is Spot.CEILING else NotConcerned()


def _without_box(fan: Device) -> Outcome:
    return Pass() if fan.is_(independent_support=True) else Undetermined((fan.where("box"),))


def _with_fan(fan: Device, box: Box, job: Job) -> Outcome:
    heaviest, unmarked = job.pounds("fan_heaviest"), job.pounds("fan_unmarked")
    if fan.is_(independent_support=True):
        return Pass()
    if not box.fan_rated:
        return _unfit(fan, box, "is not listed for a fan", None, heaviest)
    if not within(fan.weight, heaviest):
        return _unfit(fan, box, f"may support {shown(pounds(heaviest))} at the most", heaviest, heaviest)
    marked = box.knows("fan_rating") or not within(fan.weight, unmarked)
    limit = Pounds(min(box.fan_rating, heaviest)) if marked else unmarked
    if within(fan.weight, limit):
        return Pass(pounds(fan.weight), pounds(limit))
    return _unfit(fan, box, f"is marked for {shown(pounds(limit))}", limit, heaviest)


def _unfit(fan: Device, box: Box, why: str, limit: Pounds | None, heaviest: Pounds) -> Violation:
    weight = f", {shown(pounds(fan.weight))}," if fan.knows("weight") else ""
    hung = Remedy("Support the fan from the structure itself.", (state(fan, "independent_support", value=True),))
    measured, most = (None, None) if limit is None else (pounds(fan.weight), pounds(limit))
    said = f"{name_of(fan)}{weight} is mounted on {name_of(box)}, which {why}."
    return Violation(said, measured, most, (*_better_box(fan, box, heaviest), hung), related=(fan.pointer,))


def _better_box(fan: Device, box: Box, heaviest: Pounds) -> tuple[Remedy, ...]:
    if fan.knows("weight") and not within(fan.weight, heaviest):
        return ()
    rating = shown(pounds(heaviest))
    patch = (state(box, "fan_rated", value=True), state(box, "fan_rating", written(pounds(heaviest))))
    return (Remedy(f"Install a box listed for a fan and marked for {rating}, on a brace or blocking.", patch),)
