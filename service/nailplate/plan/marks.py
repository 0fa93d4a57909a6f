"""The kinds of value that fields hold, each with the bounds that every such value keeps."""

from typing import Annotated, Final, NewType

from nailplate.plan.facts import AtLeast, AtMost, Items, MoreThan, Refers
from nailplate.units import Amperes, Celsius, CubicInches, Inches, Pounds, SquareInches, VoltAmperes, Volts

LONGEST: Final = 3600.0
"""Inches (300 ft) of anything in a small house or on it: far over what is built, and under a house's millimeters taken for inches."""
LONGEST_RUN: Final = 36_000.0
"""Inches (3,000 ft) of a cable, feeder or service, which may cross a piece of land."""

Length = Annotated[Inches, MoreThan(0), AtMost(LONGEST)]
Distance = Annotated[Inches, AtLeast(0), AtMost(LONGEST)]
Run = Annotated[Inches, MoreThan(0), AtMost(LONGEST_RUN)]
Height = Annotated[Inches, AtLeast(-LONGEST), AtMost(LONGEST)]
Coordinate = Inches
"""Where a house stands in its drawing is nobody's matter; how far its parts reach is (``soundness``)."""
Area = Annotated[SquareInches, MoreThan(0), AtMost(14_400_000.0)]
Volume = Annotated[CubicInches, MoreThan(0), AtMost(1_000_000.0)]
Current = Annotated[Amperes, MoreThan(0), AtMost(10_000.0)]
Voltage = Annotated[Volts, AtLeast(1), AtMost(100_000.0)]
"""Under one volt there is no circuit to speak of, and currents worked out from it would lose all measure."""
Power = Annotated[VoltAmperes, MoreThan(0), AtMost(1_000_000.0)]
Weight = Annotated[Pounds, MoreThan(0), AtMost(10_000.0)]
Temperature = Annotated[Celsius, AtLeast(-90), AtMost(250)]
Count = Annotated[int, AtLeast(1), AtMost(100)]
"""How many of what stands or runs together: tens at the most. Where the trade has a smaller bound a field says it."""
CountOrNone = Annotated[int, AtLeast(0), AtMost(100)]

Point = tuple[Coordinate, Coordinate]
Line = Annotated[tuple[Point, ...], Items(2, 200)]
Outline = Annotated[tuple[Point, ...], Items(3, 200)]

WireSize = NewType("WireSize", str)
"""A conductor size by name: ``14 AWG``, ``1/0 AWG``, ``250 kcmil``."""
TradeSize = NewType("TradeSize", str)
"""A box size by name: ``4 x 2-1/8 square``."""
Date = NewType("Date", str)
"""A calendar date, ``2026-03-01``."""

LevelId = Annotated[str, Refers("levels")]
WallId = Annotated[str, Refers("walls")]
CounterId = Annotated[str, Refers("counters")]
RoomId = Annotated[str, Refers("rooms")]
ApplianceId = Annotated[str, Refers("appliances")]
PanelId = Annotated[str, Refers("panels")]
CircuitId = Annotated[str, Refers("circuits")]
BoxId = Annotated[str, Refers("boxes")]
DeviceId = Annotated[str, Refers("devices")]
SupplyId = Annotated[str, Refers("supplies")]
