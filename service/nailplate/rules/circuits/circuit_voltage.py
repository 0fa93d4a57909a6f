"""A circuit is for a voltage that its supply gives.

Why: 208 V stand between two hots of three-phase buildings only; a heater bought for them burns out on 240 V, and one for 240 V gives three
quarters of its heat on 208 V.

Fix: state 120 V or 240 V on a house's supply, and buy what is marked for it.

Trap: people say 110 and 220 for what has been 120 V and 240 V for decades. Equipment marked 115 V, 125 V, 230 V or 250 V is for these too.

Does not judge: a supply of 120 V alone and the volts of appliances are `supply-voltage`'s matter.
"""

from nailplate.plan import Circuit
from nailplate.plan.words import SupplyVoltage
from nailplate.rulekit import Cite, Hazard, Job, NotConcerned, Outcome, Pass, Remedy, Severity, Subject, Violation, rule, state
from nailplate.survey.names import name_of
from nailplate.units import Volts, shown, volts, written

_GIVES = {
    SupplyVoltage.V120: ((120.0, 115.0, 127.0),),
    SupplyVoltage.V120_240: ((120.0, 115.0, 127.0), (240.0, 230.0, 250.0)),
    SupplyVoltage.V120_208: ((120.0, 115.0, 127.0), (208.0, 200.0, 215.0)),
}
"""Nominal voltages of a supply, each with the least and the most that is marked on equipment for it (common practice)."""
_EVERYWHERE = _GIVES[SupplyVoltage.V120][0]
"""Every supply gives it."""


@rule(
    id="circuit-voltage",
    over=Circuit,
    severity=Severity.CODE,
    subjects=(Subject.FED,),
    cites={"nec-2017": Cite("110.4, 220.5(A)", note="from memory")},
    hazards=(Hazard.OVERHEATING,),
)
def circuit_voltage(circuit: Circuit, job: Job) -> Outcome:
    """Judges one circuit that says its voltage; what its supply gives is asked for by `supply-voltage`."""
    panel = job.plan.panels[circuit.panel] if circuit.knows("panel", "voltage") else None
    supply = job.plan.supplies[panel.supply] if panel is not None and panel.knows("supply") else None
    if supply is None:
        return NotConcerned()
    if _EVERYWHERE[1] <= circuit.voltage <= _EVERYWHERE[2]:
        return Pass(volts(circuit.voltage))
    gives = _GIVES[supply.voltage]
    if len(gives) == 1 and circuit.voltage > gives[0][2]:
        return NotConcerned()
    if any(least <= circuit.voltage <= most for _, least, most in gives):
        return Pass(volts(circuit.voltage))
    nearest = Volts(min((nominal for nominal, *_ in gives), key=lambda each: abs(each - circuit.voltage)))
    names = " and ".join(shown(volts(nominal)) for nominal, *_ in gives)
    return Violation(
        f"{name_of(circuit)} is for {shown(volts(circuit.voltage))}; {name_of(supply)} gives {names}.",
        volts(circuit.voltage),
        volts(nearest),
        (
            Remedy(
                f"State {shown(volts(nearest))}, and use equipment that is marked for it.",
                (state(circuit, "voltage", written(volts(nearest))),),
            ),
        ),
        related=(supply.pointer,),
    )
