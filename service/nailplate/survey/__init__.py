"""What follows from the drawing; worked out once per plan, when first asked for."""

from nailplate.survey.index import Survey
from nailplate.survey.places import Standing, place_of, standing
from nailplate.survey.regime import regime_of

__all__ = ["Standing", "Survey", "place_of", "regime_of", "standing"]
