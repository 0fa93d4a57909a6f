"""Judges every run of a cable, or every box, and tells what the plan leaves out once for the whole plan instead of once for each.

A house without one fact about its holes would otherwise raise the same finding at each of its cables.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from nailplate.plan import MAP_NAMES, ROOT, Cable, Part, Pointer, UnknownFact
from nailplate.plan.words import CableType
from nailplate.rulekit import Job, Judgement, NotConcerned, Outcome, Undetermined, Violation, with_facet
from nailplate.survey import Survey
from nailplate.survey.names import name_of
from nailplate.survey.rough_in import Run, course_of

JudgeRun = Callable[[Run, Job], Outcome]
JudgePart = Callable[[Any, Job], Iterable[Outcome]]


def each_run(cable: Cable, job: Job, judge: JudgeRun, concerned: Callable[[Cable], bool] | None = None) -> Iterator[Outcome]:
    """``judge`` over every run of ``cable``, each outcome with the run's place. Cords, and cables not ``concerned``, are left out."""
    return iter(_told_at(cable, job.survey.once(_every_run, judge, concerned or is_wiring)))


def is_wiring(cable: Cable) -> bool:
    """Whether it is fixed wiring, limited-energy cables too; 300.4 does not speak of flexible cords."""
    return not cable.is_(type=CableType.CORD)


def once_told(part: Part, job: Job, judge: JudgePart) -> Iterator[Outcome]:
    """What ``judge`` says of ``part``; facts that are missing anywhere are told at the first part that lacks one."""
    return iter(_told_at(part, job.survey.once(_every_part, judge, MAP_NAMES[type(part)])))


def _told_at(part: Part, everything: "_Said") -> list[Outcome]:
    said = everything.said.get(part.id, [])
    if part.id != everything.first_open:
        return said
    at = ROOT / MAP_NAMES[type(part)] if len(everything.open_parts) > 1 else part.pointer
    return [*said, Undetermined(tuple(dict.fromkeys(everything.open)), at=at, facet="not said")]


def run_words(run: Run) -> str:
    """A run as a message calls it."""
    if run.wall is not None:
        return f"{name_of(run.cable)} in wall {name_of(run.wall)}"
    return f"{name_of(run.cable)}, stretch {run.place + 1} of its route"


def as_derived(said: Outcome, run: Run, place: int) -> Outcome:
    """What is said of a run that no author draws: what passes there passes; what would not is asked for, and is no violation."""
    if isinstance(said, Violation | Judgement):
        words = f"Along the route worked out between its ends (derived): {said.message} Draw its route, or state what differs there."
        return Undetermined((run.cable.where("route"),), words, facet=f"derived {place}")
    if isinstance(said, Undetermined):
        return Undetermined((run.cable.where("route"),))
    return with_facet(said, str(place))


def _is_open(outcome: Outcome) -> bool:
    """Whether facts are missing that are told with those of all other parts."""
    return isinstance(outcome, Undetermined) and not outcome.facet.startswith("derived ")


@dataclass(frozen=True, slots=True)
class _Said:
    said: Mapping[str, list[Outcome]]
    open: tuple[Pointer, ...]
    open_parts: tuple[str, ...]

    @property
    def first_open(self) -> str | None:
        return self.open_parts[0] if self.open_parts else None


def _every_run(survey: Survey, judge: JudgeRun, concerned: Callable[[Cable], bool]) -> _Said:
    job = Job(survey.plan, survey, survey.edition)
    return _said_of((cable, _of_runs(cable, job, judge, concerned)) for cable in survey.plan.cables.values())


def _every_part(survey: Survey, judge: JudgePart, map_name: str) -> _Said:
    job = Job(survey.plan, survey, survey.edition)
    parts: Mapping[str, Part] = getattr(survey.plan, map_name)
    return _said_of((part, _of_part(part, job, judge)) for part in parts.values())


def _said_of(answers: Iterable[tuple[Part, list[Outcome]]]) -> _Said:
    said: dict[str, list[Outcome]] = {}
    missing: dict[str, tuple[Pointer, ...]] = {}
    for part, outcomes in answers:
        needs = tuple(need for each in outcomes if isinstance(each, Undetermined) and _is_open(each) for need in each.needs)
        said[part.id] = [each for each in outcomes if not _is_open(each)]
        if needs:
            missing[part.id] = needs
    return _Said(said, tuple(need for needs in missing.values() for need in needs), tuple(missing))


def _of_part(part: Part, job: Job, judge: JudgePart) -> list[Outcome]:
    said: list[Outcome] = []
    try:
        for outcome in judge(part, job):
            said.append(outcome)  # noqa: PERF402 - what was said before a fact was missing stands
    except UnknownFact as unknown:
        said.append(Undetermined((unknown.pointer,)))
    return said


def _of_runs(cable: Cable, job: Job, judge: JudgeRun, concerned: Callable[[Cable], bool]) -> list[Outcome]:
    try:
        if not concerned(cable):
            return [NotConcerned()]
    except UnknownFact as unknown:
        return [Undetermined((unknown.pointer,))]
    course = course_of(job.survey, cable)
    return [_of_run(run, job, judge) for run in course] or [Undetermined((cable.where("route"),))]


def _of_run(run: Run, job: Job, judge: JudgeRun) -> Outcome:
    try:
        said = judge(run, job)
    except UnknownFact as unknown:
        said = Undetermined((unknown.pointer,))
    if run.derived:
        return as_derived(said, run, run.place)
    if isinstance(said, Violation | Judgement):
        return replace(said, at=said.at or run.pointer, facet=str(run.place))
    return said if isinstance(said, Undetermined) else with_facet(said, str(run.place))
