"""A switch opens the hot, never the neutral alone.

Why: where the neutral is switched, everything behind the switch stays live when the light is off, and whoever changes the lamp or
the fixture touches it.

Fix: run the hot through the switch and the neutral straight to the outlet, or use a switch that opens both together.

Trap: three-way switches wired with hot and neutral on their travelers save a conductor and put the lamp holder's shell on the hot
in half of the positions.

Does not judge: where the cables drawn do not bring the circuit to a switch or to what it controls, ``circuit-fed`` tells of it,
and the wiring is not needed here.
"""

from nailplate.plan import Control
from nailplate.plan.words import Opens, Ways
from nailplate.rulekit import Cite, Hazard, Job, Severity, Subject, rule
from nailplate.rulekit.answers import NotConcerned, Outcome, Pass, Remedy, Undetermined, Violation, state
from nailplate.survey.names import name_of
from nailplate.survey.wiring import ControlWiring, control_wiring


@rule(
    id="neutral-unswitched",
    over=Control,
    severity=Severity.DANGER,
    subjects=(Subject.SWITCHING,),
    cites={"nec-2017": Cite("404.2(B)", seen=(2020, 2023), note="public copies of the 2020 and 2023 code text")},
    hazards=(Hazard.SHOCK,),
)
def neutral_unswitched(control: Control, job: Job) -> Outcome:
    """By what the plan says the switches open; where it does not, by the wiring that its cables allow, which opens hots alone."""
    found = control_wiring(job.survey, control)
    if control.knows("opens"):
        return _as_stated(control, found)
    if found.wired:
        return Pass()
    cables = found.circuit is not None and (found.circuit.loops or found.circuit.lone or found.cut_off)
    if found.parts.faults or found.parts.on_several or not found.parts.switches or cables:
        return NotConcerned()  # there is no wiring to judge, and other rules say why
    return Undetermined((control.where("opens"),))


def _as_stated(control: Control, found: ControlWiring) -> Outcome:
    if control.opens is Opens.HOT:
        return Pass()
    if control.opens is Opens.BOTH:
        unsaid = [device for device, _ in found.parts.switches if not device.knows("ways") and not device.knows("poles")]
        if unsaid:
            return Undetermined(tuple(device.where("ways") for device in unsaid))
        if all(kind is Ways.DOUBLE_POLE for _, kind in found.parts.switches):
            return Pass()
    return _switched(control)


def _switched(control: Control) -> Violation:
    said = "open hot and neutral, but are no double-pole switches" if control.opens is Opens.BOTH else "open the neutral"
    return Violation(
        f"{name_of(control)}: its switches {said}; what they control stays live when it is off.",
        remedies=(
            Remedy(
                "Run the hot through the switches and the neutral straight to the outlets.",
                (state(control, "opens", Opens.HOT.value),),
            ),
        ),
    )
