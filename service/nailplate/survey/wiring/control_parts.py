"""What a control is made of for wiring: the kind of each of its switches, its outlets, its circuit, and what is wrong with it.

Faults are certain by the drawing alone, whatever the cables; needs are facts without which its wiring cannot be worked out.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from nailplate.calc.switching import mismatch
from nailplate.plan import Circuit, Control, Device, Pointer, UnknownFact
from nailplate.plan.trade import SWITCHING
from nailplate.plan.words import DeviceKind, SwitchedHalf, Ways
from nailplate.survey.index import Survey
from nailplate.survey.names import name_of
from nailplate.survey.wiring.wired_together import circuit_of, wired_together

_MATCH: Final = (
    "Use a single-pole switch at one point; at more, two three-way switches and a four-way switch for each further point."
)
_TWO_WIRED: Final = 2
_MOST_NAMED: Final = 3


@dataclass(frozen=True, slots=True)
class ControlFault:
    """What is wrong with a control, where, and what to do about it."""

    at: Pointer
    words: str
    remedy: str


@dataclass(frozen=True, slots=True)
class ControlParts:
    """A control taken apart. ``circuits`` are those that its switches and outlets are on; one or a multiwire pair is sound."""

    control: Control
    switches: tuple[tuple[Device, Ways], ...]
    outlets: tuple[Device, ...]
    circuits: tuple[Circuit, ...]
    faults: tuple[ControlFault, ...]
    needs: tuple[Pointer, ...]

    @property
    def on_several(self) -> bool:
        """Whether its switches and outlets are on different circuits."""
        return len(self.circuits) > 1


def control_parts(survey: Survey, control: Control) -> ControlParts:
    """A control taken apart."""
    return survey.once(_parts, control.id)


def _parts(survey: Survey, control_id: str) -> ControlParts:
    control = survey.plan.controls[control_id]
    wired = [each for each in (survey.plan.devices[name] for name in dict.fromkeys(control.switches)) if not _wireless(each)]
    outlets = tuple(survey.plan.devices[name] for name in dict.fromkeys(control.outlets))
    faults, needs = list(_faults(survey, control, wired, outlets)), list[Pointer]()
    switches = _kinds(wired, needs)
    kinds = [kind for _, kind in switches]
    if wired and not needs and not faults and mismatch(kinds):
        faults.append(ControlFault(control.pointer, mismatch(kinds), _MATCH))
    needs += (each.where("switched_half") for each in outlets if _half_unsaid(each))
    needs += (each.where("contacts") for each in outlets if _contacts_unsaid(each))
    return ControlParts(control, switches, outlets, _circuits(survey, (*wired, *outlets), needs), tuple(faults), tuple(needs))


def _wireless(device: Device) -> bool:
    return device.knows("battery_powered") and device.battery_powered


# Kinds of switch


def _kinds(wired: list[Device], needs: list[Pointer]) -> tuple[tuple[Device, Ways], ...]:
    """One switch is single-pole and two are three-way where they do not say otherwise; of three, one must say that it is four-way."""
    usual = Ways.SINGLE_POLE if len(wired) == 1 else Ways.THREE_WAY
    if len(wired) > _TWO_WIRED:
        needs += (each.where("ways") for each in wired if not each.knows("ways"))
    return tuple((each, _kind(each, usual)) for each in wired)


def _kind(device: Device, usual: Ways) -> Ways:
    if device.knows("ways"):
        return device.ways
    both = usual is Ways.SINGLE_POLE and device.knows("poles") and device.poles == _TWO_WIRED
    return Ways.DOUBLE_POLE if both else usual


# Faults of the drawing


def _faults(survey: Survey, control: Control, wired: list[Device], outlets: tuple[Device, ...]) -> Iterator[ControlFault]:
    for device in wired:
        if device.kind not in SWITCHING:
            words = f"{name_of(device)} is named as a switch and is none"
            yield ControlFault(device.pointer, words, "Name a switch, dimmer, sensor or timer.")
        elif len(survey.once(_switched_by).get(device.id, ())) > 1:
            words = f"switch {name_of(device)} is named by another control too; one switch makes and breaks one circuit"
            yield ControlFault(device.pointer, words, "Give each control a switch of its own, or make them one control.")
    for outlet in outlets:
        yield from _outlet_faults(survey, control, outlet)


def _outlet_faults(survey: Survey, control: Control, outlet: Device) -> Iterator[ControlFault]:
    if outlet.kind in SWITCHING:
        words = f"{name_of(outlet)} is named as an outlet and is a switch"
        yield ControlFault(outlet.pointer, words, "Name the outlet that is controlled.")
    elif is_whole_duplex(outlet):
        words = f"receptacle {name_of(outlet)} is controlled, but no half of it is said to be switched"
        remedy = "Split the receptacle (take out the tab on its hot side) and say which half is switched, or switch both."
        yield ControlFault(outlet.pointer, words, remedy)
    controls = survey.once(_controlled_by)[outlet.id]
    if len(controls) - 1 > _further_controls(outlet):
        others = [each for each in controls[:_MOST_NAMED] if each is not control]
        named = " and ".join(name_of(each) for each in (control, *others)[:_MOST_NAMED])
        words = f"{name_of(outlet)} is controlled by {named} at once; it would be fed from two switches"
        yield ControlFault(outlet.pointer, words, "Make switches that work together one control, with three-way switches.")


def _switched_by(survey: Survey) -> Mapping[str, list[Control]]:
    """Device id to the controls that name it as a switch."""
    return _by_member(survey.plan.controls.values(), lambda control: control.switches)


def _controlled_by(survey: Survey) -> Mapping[str, list[Control]]:
    """Device id to the controls that name it as an outlet."""
    return _by_member(survey.plan.controls.values(), lambda control: control.outlets)


def _by_member(controls: Iterable[Control], members: Callable[[Control], tuple[str, ...]]) -> dict[str, list[Control]]:
    found: dict[str, list[Control]] = {}
    for control in controls:
        for name in dict.fromkeys(members(control)):
            found.setdefault(name, []).append(control)
    return found


def _further_controls(outlet: Device) -> int:
    """A fan may have its light on a switch of its own; of a receptacle with both halves switched, each may be."""
    two = outlet.kind is DeviceKind.FAN or (outlet.knows("switched_half") and outlet.switched_half is SwitchedHalf.BOTH)
    return 1 if two else 0


def is_whole_duplex(outlet: Device) -> bool:
    """A duplex receptacle of which no half is switched. A single receptacle has no halves."""
    split = outlet.knows("switched_half") and outlet.switched_half is SwitchedHalf.NONE
    return outlet.kind is DeviceKind.RECEPTACLE and split and outlet.knows("contacts") and not _is_single(outlet)


def _contacts_unsaid(outlet: Device) -> bool:
    """Whether a receptacle of which no half is switched may have no halves."""
    return outlet.is_(switched_half=SwitchedHalf.NONE, kind=DeviceKind.RECEPTACLE) and not outlet.knows("contacts")


def _half_unsaid(outlet: Device) -> bool:
    return outlet.kind is DeviceKind.RECEPTACLE and not outlet.knows("switched_half") and not _is_single(outlet)


def _is_single(outlet: Device) -> bool:
    return outlet.knows("contacts") and outlet.contacts == 1


def is_half_switched(outlet: Device) -> bool:
    """A receptacle that keeps one half always live."""
    return outlet.knows("switched_half") and outlet.switched_half in (SwitchedHalf.UPPER, SwitchedHalf.LOWER)


# Circuits


def _circuits(survey: Survey, devices: tuple[Device, ...], needs: list[Pointer]) -> tuple[Circuit, ...]:
    """One for each that is wired by itself; of a multiwire pair the half that the first switch is on, whose hot it takes."""
    found: list[Circuit] = []
    unknown: list[Pointer] = []
    for device in devices:
        try:
            found.append(circuit_of(survey, device))
        except UnknownFact as missing:
            unknown.append(missing.pointer)
    if not found:
        needs += unknown
    apart: dict[str, Circuit] = {}
    for each in found:
        apart.setdefault(wired_together(survey, each).circuits[0].id, each)
    return tuple(apart.values())
