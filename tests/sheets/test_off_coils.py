"""What is on no coil, conductors in raceways, on the sheets that tell what to buy and pull."""

from sheets.houses import house
from sheets.tables_read import of_house, rows


def test_conductors_in_raceways_are_told_beside_the_coils_and_bought_as_raceway() -> None:
    raceways = [each for each in house("tamarack-osprey")["cables"].values() if each["type"] == "raceway"]
    feet = sum(each["length"] for each in raceways) / 12
    kind = "raceway with 2 conductors of 12 AWG and a grounding conductor"
    [coils] = [each for each in of_house("tamarack-osprey", "cables")["sections"] if each["title"] == "Coils to open"]
    pulls = [str(each["Pull"]) for each in rows(of_house("tamarack-osprey", "cables"), "Cables") if each["Type"] == kind]
    assert len(pulls) == len(raceways) == 2
    [note] = coils["notes"]
    told = note if isinstance(note, str) else note["text"]
    assert told.startswith(f"Not from a coil: {kind}, {feet:g}'-0\" in all (pull {', '.join(pulls)}).")
    bought = {each["Kind and size"]: each for each in rows(of_house("tamarack-osprey", "take-off"), "Take-off")}
    assert (bought[kind]["Item"], bought[kind]["Net quantity"]) == ("raceway, by the run", feet)


def test_a_house_without_raceways_has_nothing_off_the_coils() -> None:
    [coils] = [each for each in of_house("tamarack-heron", "cables")["sections"] if each["title"] == "Coils to open"]
    assert not coils.get("notes")
