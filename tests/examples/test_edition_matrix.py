"""The same house in four editions and on two permit dates gives exactly the differences that published accounts tell of.

Sources, by the letter at each row; sections of the National Electrical Code:
a https://www.eaton.com/us/en-us/company/news-insights/for-safetys-sake-blog/NEC-2020-increases-GFCI-protection.html (250 V, 2020)
b https://www.jlconline.com/remodeling/adoption-of-electrical-code-changes-may-be-on-the-horizon_c (basements, 2020)
c https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/48884919 (kitchens, 2023)
d https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/48885160 (areas with a sink, 2023)
e https://www.ecmag.com/section/residential/remodel-care-necessary-changes-nec-dwelling-units-2017-2020 (doorways, 2020)
f https://marselectric.com/posts/2023-nec-update-210-8-a-gfci-for-personnel-dwelling-units (damp places, 2020)
g https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1851 (accessory, 2026)
h https://forums.mikeholt.com/threads/2559641 (dishwashers, 2017), same site as g, sectionID=810 (list of 2020)
i http://eaton.rs/us/en-us/markets/residential/nec-2023-updates/210-8d-appliances-gfci-requirements.html (list of 2023)
j same site as g, sectionID=1852 (outdoor outlets, 50 A and 60 A)
k http://www.digitrip.com/us/en-us/markets/residential/nec-2023-updates/gfci-210-8f-outdoor-outlets.html (mini-splits to 2023)
l https://forums.mikeholt.com/threads/2023-national-electric-code-section-210-8-f.2570000 (equipment to 1 September 2026)
m same site as g, sectionID=232 (crawl-space lights); https://captaincode2020.leviton.com/node/243 (service receptacles, 2020)
n https://serveacademy.it/courses/2023-nec-changes-michigan/lectures/48886415 (10 A circuits, 2023)
o same site as g, sectionID=1853 (arc welders, 2023 and 2026)
p https://captaincode2017.leviton.com/node/122 (the list of 2017)
"""

import pytest

from examples.edition_house import report
from nailplate.codes import EDITIONS

BEFORE, AFTER = "2022-12-31", "2026-09-01"
RULES = {
    "gfci-locations",
    "gfci-appliances",
    "gfci-outdoor-outlets",
    "gfci-service-and-crawl",
    "afci-rooms",
}

pytestmark = pytest.mark.long
# A row: rule, place, and for each date what 2017, 2020, 2023 and 2026 ask: X protection, . none. One group where the date is idle.
TABLE = """
gfci-locations          /devices/bath-receptacle      XXXX       p
gfci-locations          /devices/garage-receptacle    XXXX       p
gfci-locations          /devices/porch-receptacle     XXXX       p
gfci-locations          /devices/counter-receptacle   XXXX       p
gfci-locations          /devices/charger-receptacle   .XXX       a
gfci-locations          /devices/dryer-receptacle     .XXX       a
gfci-locations          /devices/playroom-receptacle  .XXX       b
gfci-locations          /devices/door-receptacle      .XXX       e
gfci-locations          /devices/plant-receptacle     .XXX       f
gfci-locations          /devices/fridge-receptacle    ..XX       c
gfci-locations          /devices/pantry-receptacle    ..XX       d
gfci-locations          /devices/workshop-receptacle  ...X       g
gfci-appliances         /appliances/dishwasher        XXXX       h
gfci-appliances         /appliances/sump-pump         .XXX       h
gfci-appliances         /appliances/cooktop           ..XX       i
gfci-appliances         /appliances/dryer             ..XX       i
gfci-outdoor-outlets    /appliances/well-pump         .XXX       j
gfci-outdoor-outlets    /appliances/garage-heater     ..X.       j
gfci-outdoor-outlets    /appliances/big-charger       ...X       j
gfci-outdoor-outlets    /appliances/mini-split        ....  .XXX kl
gfci-service-and-crawl  /devices/crawl-light          XXXX       m
gfci-service-and-crawl  /devices/attic-receptacle     .XXX       m
afci-rooms              /circuits/lights              ..XX       n
afci-rooms              /circuits/welder              XX..  XXX. o
"""

Row = tuple[str, str]


def predicted(date: str) -> dict[Row, str]:
    rows = [line.split() for line in TABLE.strip().splitlines()]
    return {(rule, place): groups[0] if date == BEFORE else groups[-2] for rule, place, *groups in rows}


def found(date: str) -> dict[Row, str]:
    seen: dict[Row, str] = {}
    for number, edition in enumerate(EDITIONS):
        for finding in report(edition, date).findings:
            if finding.rule in RULES:
                assert finding.outcome == "violation", finding
                row = seen.setdefault((finding.rule, str(finding.where.pointer)), "." * len(EDITIONS))
                seen[finding.rule, str(finding.where.pointer)] = row[:number] + "X" + row[number + 1 :]
    return seen


@pytest.mark.parametrize("date", [BEFORE, AFTER])
def test_each_edition_asks_for_what_published_accounts_say(date: str) -> None:
    matrix = found(date)
    print(f"\n{'permit of ' + date:56} {'  '.join(EDITIONS)}")
    for (rule, place), cells in sorted(matrix.items()):
        print(f"{rule:24}{place:32}  {'     '.join(cells)}")
    assert {row: matrix.get(row, "....") for row in predicted(date)} == predicted(date)
    assert set(matrix) <= set(predicted(date))


def test_the_date_alone_changes_two_rows() -> None:
    before, after = predicted(BEFORE), predicted(AFTER)
    changed = {place for (rule, place), cells in before.items() if after[rule, place] != cells}
    assert changed == {"/appliances/mini-split", "/circuits/welder"}
