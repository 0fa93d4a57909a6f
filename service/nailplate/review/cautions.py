"""What every report says beside its findings: the limits of a check on paper."""

from collections.abc import Iterator

from nailplate.plan import Plan
from nailplate.plan.trade import NOT_DWELLINGS
from nailplate.plan.words import Provision, Regime
from nailplate.survey import regime_of

STANDING = (
    "This report checks a drawing against its own reading of published electrical rules. It is no substitute for the code book, "
    "a permit, an inspection or a licensed electrician.",
    "Local amendments, the serving utility and the authority having jurisdiction decide; where they differ from this report, "
    "they win.",
    "Every finding and every pass rests on what the plan states. What is built may differ: check it on site before it is covered.",
    "Citations marked memory or assumed were not seen in a public source for that edition; look them up before acting on them.",
    "Only qualified persons work on or near energized parts. Turn the power off, lock it out and test before touching anything.",
)

SITE_CHECKS = (
    "Every splice, termination and connector made up and tight to the manufacturer's torque.",
    "Boxes flush with the finish, masked against foam and plaster, and reachable afterwards.",
    "Cable jackets and conductors undamaged by staples, bends, drills and framing edges.",
    "Nail plates in place wherever a hole, notch or run comes within 1-1/4 in of an edge.",
    "Receptacle polarity, grounding continuity, GFCI and AFCI trip tests with power on.",
    "Labels, directories and listing marks as installed.",
)


REGIME_WORDS = {
    Regime.RECREATIONAL_VEHICLE: "a recreational vehicle (NEC Article 551)",
    Regime.PARK_TRAILER: "a park trailer (NEC Article 552)",
    Regime.MANUFACTURED_HOME: "a manufactured home (NEC Article 550, 24 CFR 3280)",
    Regime.NOT_A_DWELLING: "not a dwelling unit",
}


def class_cautions(plan: Plan) -> Iterator[str]:
    """What to say where the rules for dwelling units may not be the right ones."""
    regime = regime_of(plan)
    if regime in NOT_DWELLINGS:
        yield (
            f"The plan says that this is {REGIME_WORDS[regime]}. Rules that speak of dwelling units only were not run, and the "
            "rules of its own article are not all in this service: see the coverage."
        )
    if regime is Regime.NOT_A_DWELLING:
        yield (
            "Outside dwelling units 210.60 requires receptacles as in a dwelling where rooms are let to guests; that is not judged here. "
            "GFCI places of 210.8(B) were judged by the receptacles drawn."
        )
    if regime is Regime.UNDECIDED:
        yield (
            "The plan does not say which rules this house is built under. The rules for dwelling units were run. Whether they "
            "apply is for the authority having jurisdiction to say, so what they found is told as a question with both answers."
        )
    if regime is Regime.DWELLING and plan.basis.knows("on_wheels") and plan.basis.on_wheels:
        yield (
            "This house stands on wheels and was checked as a dwelling unit. Some places treat such a house as a recreational "
            "vehicle (Article 551), park trailer (552) or manufactured home (550); ask the authority having jurisdiction."
        )
    yield from _provision_caution(plan, regime)


def _provision_caution(plan: Plan, regime: Regime) -> Iterator[str]:
    if regime in NOT_DWELLINGS or not plan.basis.knows("provisions"):
        return
    missing = [provision.value for provision in Provision if provision not in plan.basis.provisions]
    if missing:
        yield (
            f"A dwelling unit has permanent provisions for living, sleeping, cooking and sanitation; the plan has none for "
            f"{', '.join(missing)}. The rules for dwelling units were run, but may not be required here (NEC Article 100)."
        )
