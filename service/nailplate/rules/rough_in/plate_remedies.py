"""What a hole, notch or cable too near an edge wants: steel on the faces that it is near to."""

from nailplate.plan.words import Plates
from nailplate.rulekit import Remedy, state
from nailplate.survey.rough_in import Run

THICKNESS = "1/16 in steel"


def plate_on(run: Run, faces: int) -> Remedy:
    """Install plates on one face or both."""
    plates = Plates.BOTH_FACES if faces > 1 else Plates.ONE_FACE
    where = "both faces of each member" if faces > 1 else "the nearer face of each member"
    words = f"Install {THICKNESS} plates, or listed and marked thinner ones, on {where}, long enough to cover the cable."
    return Remedy(words, (state(run.segment, "plates", plates.value),))
