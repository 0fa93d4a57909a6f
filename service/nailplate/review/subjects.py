"""Subjects of a wiring plan that people expect to be looked at, each with the rules that look at it.

A report names those that no rule in force speaks of, so that silence is never taken for a pass.
"""

from collections.abc import Iterable

SUBJECTS: dict[str, tuple[str, ...]] = {
    "whether every outlet is fed from its panel, and every cable matches its circuit": ("circuit-fed", "cable-matches-circuit"),
    "laundry, bathroom and garage circuits, and what they may serve": ("laundry-circuit", "bathroom-circuit", "garage-circuit"),
    "circuits of ranges, water heaters, fixed heat, motors and air conditioning": (
        "range-circuit",
        "water-heater-circuit",
        "motor-circuit",
    ),
    "loads on a circuit, continuous loads and cord-connected shares": (
        "permissible-load",
        "continuous-load",
        "cord-load-share",
    ),
    "multiwire circuits": ("multiwire-disconnect", "multiwire-legs"),
    "voltage drop": ("voltage-drop",),
    "sizes of equipment grounding conductors": ("grounding-conductor-size",),
    "panel ratings, spaces and balance": ("panel-rating", "panel-spaces"),
    "the service or feeder and its load": ("service-size", "feeder-size", "supply-fits-circuits"),
    "neutral bond, grounding electrode and chassis bond": ("neutral-bond-place", "electrode", "chassis-bond"),
    "surge protection and the emergency disconnect": ("surge-protection", "emergency-disconnect"),
    "receptacles at kitchen counters, islands and peninsulas": ("wall-counter", "island-peninsula"),
    "room dividers and railings": ("room-divider",),
    "outdoor, deck, laundry, garage, basement, hall and foyer receptacles": (
        "outdoor-receptacles",
        "garage-receptacles",
        "hall-receptacle",
    ),
    "working space, place and height of panels": ("working-space", "panel-place", "handle-height"),
    "smoke and carbon monoxide alarms": ("smoke-alarm-places", "co-alarm-places"),
    "required lights and their switches, stairs included": ("light-habitable", "stair-switching", "light-exterior-door"),
    "whether the switches work as wired, and neutrals at switches": ("switch-works", "neutral-at-switch", "common-return"),
    "depth, support, access, damp and wet rating and setback of boxes": (
        "box-depth",
        "luminaire-box",
        "box-accessible",
        "box-setback",
    ),
    "GFCI for appliances, outdoor outlets that are no receptacles, and crawl-space lights": (
        "gfci-appliances",
        "gfci-outdoor-outlets",
    ),
    "whether GFCI devices are readily accessible": ("gfci-reachable",),
    "weather-resistant receptacles and covers": ("weather-resistant", "cover-wet"),
    "receptacles, luminaires and switches in tub and shower zones": ("tub-receptacle", "tub-luminaire", "wet-switch"),
    "luminaires in closets and track lighting": ("closet-luminaire", "track-light"),
    "cords and disconnects of appliances": ("cord-appliance", "appliance-disconnect"),
    "holes, notches, plates, supports and bends of cable": (
        "bored-hole-edge",
        "notch-plate",
        "support-interval",
        "bend-radius",
    ),
    "cable in damp or wet places, exposed, or under a chassis": ("cable-place", "exposed-run"),
    "bundles of cable in insulation": ("bundled-in-insulation",),
    "cables across openings, close under a roof deck, or beside low-voltage cable": (
        "route-crosses-opening",
        "roof-deck-clearance",
        "low-voltage-apart",
    ),
    "free conductors in boxes and boxes in fire-rated walls": ("free-conductor", "fire-rated-wall-boxes"),
    "interconnection of alarms": ("interconnect-cable",),
    "place of a supply inlet and length of its cord": ("inlet-place", "cord-length"),
    "recessed luminaires in insulation": ("recessed-luminaire",),
}
"""What it is, in words, and the rules any of which speaks of it."""


def unspoken_of(rules: Iterable[str]) -> tuple[str, ...]:
    """A line for each subject that none of ``rules`` speaks of."""
    running = set(rules)
    return tuple(f"Not checked: {words}." for words, about in SUBJECTS.items() if running.isdisjoint(about))
