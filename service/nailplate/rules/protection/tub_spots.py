"""A receptacle, luminaire or fan near a tub or shower, as the rules on its zone look at it."""

from dataclasses import dataclass

from nailplate.plan import Device, Fixture
from nailplate.plan.words import FixtureKind
from nailplate.rulekit import Job, Pass
from nailplate.survey import Standing
from nailplate.survey.names import name_of
from nailplate.survey.receptacles import NearBath
from nailplate.units import Measure, inches, reaches


@dataclass(frozen=True, slots=True)
class TubSpot:
    """One device near one tub or shower."""

    device: Device
    job: Job
    where: Standing
    near: NearBath

    @property
    def bath(self) -> Fixture:
        """The tub or shower."""
        return self.near.fixture

    @property
    def called(self) -> str:
        """Its kind and name, as in ``shower 'shower'``."""
        return f"{self.bath.kind} {name_of(self.bath)}"

    @property
    def rim(self) -> str:
        """What heights count from, in words."""
        return "rim" if self.bath.kind is FixtureKind.TUB else "threshold"

    @property
    def limit(self) -> Measure:
        """How far the zone reaches, measured level."""
        return self.job.measure("tub_zone_across")

    def is_over_zone(self, height: float) -> bool:
        """Whether a height is 8 ft above the rim or threshold. Raises UnknownFact where the rim's is not said."""
        return reaches(self.near.rise(height), self.job.inches("tub_zone_height"))

    def passes(self, across: float | None = None) -> Pass:
        """That it is outside the zone; ``across`` of its edge, where that is not the distance of its middle."""
        return Pass(inches(max(0.0, self.near.across if across is None else across)), self.limit, self.bath.id)
