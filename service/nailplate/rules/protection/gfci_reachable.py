"""A GFCI device is in a readily accessible place.

Why: it has to be tested every month and reset after a fault; one that nobody can get at stays dead or untested, and in time somebody
takes it out.

Fix: put it where one can walk up to it, or use an ordinary receptacle there and protect the circuit at its breaker or by a
blank-face device within reach.

Trap: the receptacle behind the refrigerator or in the garage ceiling needs protection from 2023 or always, but the device that gives it may
not be that receptacle.

Does not judge: Only what the plan draws is looked at: no furniture. A breaker is reached at its panel, which other rules look
at.
"""

from nailplate.plan import Device
from nailplate.plan.words import DeviceKind
from nailplate.remedies.ground_fault_devices import with_gfci
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import Judgement, NotConcerned, Outcome, Pass, Reading, Remedy, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.protection import Obstacle, is_gfci, obstacle, protects_people
from nailplate.units import Measure, inches


@rule(
    id="gfci-reachable",
    over=Device,
    severity=Severity.CODE,
    subjects=(Subject.GFCI_DEVICES,),
    cites={
        "nec-2017": Cite("210.8", seen=(2017, 2023), note="http://ecmweb.com/nec/2017-national-electrical-code-changes?page=4")
    },
    hazards=(Hazard.SHOCK,),
    changes={"nec-2023": "The device is to be listed and of Class A."},
)
def gfci_reachable(device: Device, job: Job) -> Outcome:
    """Judges one GFCI device."""
    if not is_gfci(device):
        return NotConcerned()
    found = obstacle(job.survey, device)
    return Pass() if found is None else _out_of_reach(device, job, found)


def _out_of_reach(device: Device, job: Job, found: Obstacle) -> Outcome:
    message = f"GFCI device {name_of(device)} is not readily accessible: {found.words}."
    measured, limit = _figures(found, job)
    if not found.contested:
        return Violation(message, measured, limit, _remedies(device, job))
    readings = (
        Reading(f"It cannot be reached at once, since {found.words}.", "violation"),
        Reading("It can be reached without moving or climbing over anything, and without a ladder.", "pass"),
    )
    return Judgement(message.replace("is not", "may not be"), readings, measured, limit, _remedies(device, job))


def _figures(found: Obstacle, job: Job) -> tuple[Measure | None, Measure | None]:
    return (inches(found.height), job.measure("handle_highest")) if found.height is not None else (None, None)


def _remedies(device: Device, job: Job) -> tuple[Remedy, ...]:
    move = Remedy("Move the device to a place that one can walk up to.")
    if device.kind is DeviceKind.BLANK_GFCI or not device.knows("circuit"):
        return (move,)
    circuit = job.plan.circuits[device.circuit]
    plain = state(device, "gfci", value=False)
    words = f"Use an ordinary receptacle here and protect circuit {name_of(circuit)} with a breaker that is a GFCI."
    return (Remedy(words, (plain,) if protects_people(circuit) else (plain, with_gfci(circuit))), move)
