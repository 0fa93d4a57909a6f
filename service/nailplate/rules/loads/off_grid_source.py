"""A generator or inverter that stands alone is at least as large as the largest single appliance it feeds.

Why: a source that is too small stalls or shuts down when its largest load starts, and voltage that sags ruins motors.

Fix: choose the source by its largest appliance at least, and by what runs together if it is to be of use.

Trap: the code requires the largest appliance alone, not for the calculated load; a source that passes here may still not run a kitchen.
General lighting is no appliance in this sense. Where a transfer switch works by itself, the full load counts, or a system manages it.

Does not judge: the start of motors, how long fuel or batteries last, the surge that an inverter can give, sources that run
together with the utility, and the full load that automatic transfer equipment may have to carry. What runs at the same time on
a small supply is judged by `simultaneous-use`.
"""

from nailplate.plan import Pointer, Supply, UnknownFact
from nailplate.plan.wiring import Appliance
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation
from nailplate.survey.loads import SOURCES, circuits_behind, nameplate
from nailplate.survey.names import name_of
from nailplate.units import reaches, shown, volt_amperes


@rule(
    id="off-grid-source",
    over=Supply,
    severity=Severity.CODE,
    subjects=(Subject.SUPPLY_LOAD,),
    cites={
        "nec-2017": Cite("710.15(A)", seen=(2017,), note="https://thenecwiki.com/2021/02/article-710"),
        "nec-2020": "710.15(A)",
        "nec-2023": Cite("710.15(A)", seen=(2023,), note="https://mypdh.engineer/?p=5554"),
        "nec-2026": "710.15(A)",
    },
    hazards=(Hazard.OVERLOAD,),
)
def off_grid_source(supply: Supply, job: Job) -> Outcome:
    """Judges one generator or inverter."""
    if supply.kind not in SOURCES:
        return NotConcerned()
    largest, unknown = _largest(supply, job)
    if largest is None:
        return Undetermined(tuple(unknown)) if unknown else NotConcerned()
    capacity = supply.capacity
    measured, limit = volt_amperes(nameplate(largest)), volt_amperes(capacity)
    if not reaches(capacity, nameplate(largest)):
        return Violation(
            f"{name_of(supply)} gives {shown(limit)}; {name_of(largest)} alone draws {shown(measured)}.",
            measured,
            limit,
            (Remedy("Choose a larger source, or take this appliance off it."),),
            related=(largest.pointer,),
        )
    return Undetermined(tuple(unknown)) if unknown else Pass(measured, limit)


def _largest(supply: Supply, job: Job) -> tuple[Appliance | None, list[Pointer]]:
    unknown, known = [], []
    for circuit in circuits_behind(job.survey, supply):
        for appliance in job.survey.appliances_on_circuit.get(circuit.id, []):
            try:
                nameplate(appliance)
                known.append(appliance)
            except UnknownFact as missing:
                unknown.append(missing.pointer)
    return max(known, key=nameplate, default=None), unknown
