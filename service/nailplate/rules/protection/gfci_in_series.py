"""No more than one GFCI stands in the way of a ground fault.

Why: of two in series either may trip, or both; people reset the one that they know, find it dead, and in the end swap it for an ordinary
receptacle.

Fix: keep the device upstream, which covers more, and use an ordinary receptacle marked as protected downstream.

Trap: two are allowed and protect as well as one. This is advice, not a fault.

Does not judge: whether protection is required at all (`gfci-locations`, `gfci-appliances`), and devices built into cords and
appliances.
"""

from nailplate.plan import Circuit, Device
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.protection import ground_fault_protection, is_gfci, unknown_upstream


@rule(
    id="gfci-in-series",
    over=Device,
    severity=Severity.ADVICE,
    subjects=(Subject.GFCI_DEVICES,),
    cites={"nec-2017": Cite("210.8", note="the code allows two in series; keeping to one is common practice")},
    hazards=(Hazard.SHOCK,),
)
def gfci_in_series(device: Device, job: Job) -> Outcome:
    """Judges one GFCI device by what feeds it."""
    if not is_gfci(device):
        return NotConcerned()
    upstream = ground_fault_protection(job.survey, device).also
    if upstream:
        return _twice(device, upstream[0])
    unknown = unknown_upstream(job.survey, device)
    return Undetermined(unknown) if unknown else Pass()


def _twice(device: Device, upstream: Circuit | Device) -> Outcome:
    other = (
        f"the breaker of circuit {name_of(upstream)}" if isinstance(upstream, Circuit) else f"GFCI device {name_of(upstream)}"
    )
    message = f"GFCI device {name_of(device)} is protected already by {other}; a fault may trip either, and both must be reset."
    words = f"Use an ordinary device in place of {name_of(device)} and mark it as protected."
    patch = () if device.kind is DeviceKind.BLANK_GFCI else (state(device, "gfci", value=False),)
    return Violation(message, remedies=(Remedy(words, patch),), related=(upstream.pointer,))
