"""The ends of cables as sheets name them, and the label for each."""

from nailplate.plan import BoxEnd, Cable, DeviceEnd, PanelEnd, Part
from nailplate.plan.cables import End
from nailplate.sheets.called import named, said
from nailplate.sheets.drawing.tags import circuit_tag
from nailplate.sheets.tables import Cell
from nailplate.survey.index import Survey


def part_at_end(survey: Survey, end: End) -> Part:
    """The box, panel or device that a cable's end is drawn to."""
    if isinstance(end, BoxEnd):
        return survey.plan.boxes[end.box]
    if isinstance(end, PanelEnd):
        return survey.plan.panels[end.panel]
    return survey.plan.devices[end.device]


def end_told(survey: Survey, cable: Cable, place: int) -> Cell:
    """One end, 0 or 1, by the name of what it is at."""
    part = part_at_end(survey, cable.ends[place])
    return named(part)


def other_end(survey: Survey, cable: Cable, kind: type[BoxEnd | PanelEnd | DeviceEnd], part_id: str) -> Cell:
    """The end that is not at this part; the second one of a cable with both ends there."""
    here = part_at_end(survey, cable.ends[0])
    return end_told(survey, cable, 1 if isinstance(cable.ends[0], kind) and here.id == part_id else 0)


def label_at(survey: Survey, cable: Cable, place: int) -> Cell:
    """What to write on one end: the circuit's spaces, and where the other end is."""
    other = part_at_end(survey, cable.ends[1 - place])
    tag = circuits_told(survey, cable)
    return said(lambda name: f"{tag or '?'} to {name(other)}", cable.pointer)


def circuits_told(survey: Survey, cable: Cable) -> str:
    """The circuits that a cable carries, by their spaces in the panel; empty where the plan says none."""
    ids = [getattr(cable, fact) for fact in ("circuit", "second_circuit") if cable.knows(fact)]
    return " and ".join(circuit_tag(survey, survey.plan.circuits[each]) for each in ids)
