"""The kinds of value that fields hold, each with the bounds that every such value keeps."""

from typing import Annotated, NewType

from nailplate.plan.facts import AtLeast, Items, MoreThan, Refers
from nailplate.units import Amperes, Celsius, CubicInches, Inches, Pounds, SquareInches, VoltAmperes, Volts

Length = Annotated[Inches, MoreThan(0)]
Distance = Annotated[Inches, AtLeast(0)]
Coordinate = Inches
Area = Annotated[SquareInches, MoreThan(0)]
Volume = Annotated[CubicInches, MoreThan(0)]
Current = Annotated[Amperes, MoreThan(0)]
Voltage = Annotated[Volts, AtLeast(1)]
"""Under one volt there is no circuit to speak of, and currents worked out from it would lose all measure."""
Power = Annotated[VoltAmperes, MoreThan(0)]
Weight = Annotated[Pounds, MoreThan(0)]
Temperature = Celsius
Count = Annotated[int, AtLeast(1)]
CountOrNone = Annotated[int, AtLeast(0)]

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
