"""A receptacle with USB charging is listed as one piece, its USB supply built in.

Why: a charger squeezed into a receptacle box by other means brings line voltage and low voltage into contact.

Fix: use a receptacle whose USB supply is built in and which is listed as one, its USB part Class 2.

Trap: it counts as a receptacle for its 125 V contacts only, and needs its shutters and protection like any other. An outlet with USB
contacts alone counts for no required receptacle.

Does not judge: its shutters and protection (`tamper-resistant`, `gfci-locations`, `afci-rooms`), and USB outlets in luminaires,
furniture and plug-in adapters. The listing is taken as stated.
"""

from nailplate.plan import Device
from nailplate.plan.words import DeviceKind
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.protection import receptacle_amperes, receptacle_volts
from nailplate.units import amperes, shown, volts, within


@rule(
    id="usb-receptacle",
    over=Device,
    severity=Severity.ADVICE,
    subjects=(Subject.RECEPTACLE_TYPES,),
    cites={
        "nec-2017": Cite(
            "406.3(F)",
            seen=(2017, 2020),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=305",
        ),
        "nec-2023": Cite(
            "406.3(G)",
            seen=(2023,),
            note="https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1492",
        ),
    },
    hazards=(Hazard.SHOCK, Hazard.FIRE),
    changes={"nec-2023": "The paragraph is lettered (G)."},
)
def usb_receptacle(device: Device, job: Job) -> Outcome:
    """Judges one receptacle."""
    if not device.is_(kind=DeviceKind.RECEPTACLE, usb=True):
        return NotConcerned()
    rating, voltage = receptacle_amperes(job.survey, device), receptacle_volts(job.survey, device)
    if not (within(rating, job.amperes("usb_receptacle_rating")) and within(voltage, job.volts("usb_receptacle_voltage"))):
        return _no_such_kind(device, job, rating, voltage)
    return Pass() if device.usb_listed else _made_up(device)


def _no_such_kind(device: Device, job: Job, rating: float, voltage: float) -> Violation:
    return Violation(
        f"Receptacle {name_of(device)} is drawn with USB contacts and as one of {shown(amperes(rating))} and "
        f"{shown(volts(voltage))}; the code knows them up to {shown(job.measure('usb_receptacle_rating'))} and "
        f"{shown(job.measure('usb_receptacle_voltage'))}.",
        remedies=(Remedy("Draw the USB charging at a receptacle of 15 A or 20 A, 125 V."),),
    )


def _made_up(device: Device) -> Violation:
    return Violation(
        f"Receptacle {name_of(device)} has USB contacts that are not built in and listed with it.",
        remedies=(
            Remedy("Use a receptacle with the USB supply built in, listed as one.", (state(device, "usb_listed", value=True),)),
        ),
    )
