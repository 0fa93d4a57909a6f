"""What a resolved plan tells beside its parts: where each value comes from that its author did not state there."""

from enum import StrEnum
from typing import Annotated

from nailplate.plan.facts import Doc, Facts, Key, Needed, drawn


class DerivedFrom(StrEnum):
    """What a value was worked out from."""

    DEFAULT = "default"
    CONTINUED = "continued"
    ROUTE = "route"
    ENDS = "ends"
    WIRING = "wiring"
    ELSEWHERE = "elsewhere"


@drawn
class Derived(Facts):
    """Where one value of a resolved plan comes from. A default's value stands in its part; others stand in ``facts``."""

    source: Annotated[
        DerivedFrom,
        Key("from"),
        Doc(
            "`default`: one of the author's; `continued`: where the segment before ends; `route`: the drawn route; `ends`: a route "
            "worked out between them; `wiring`: what cables, devices and circuits tell; `elsewhere`: stated of another part, or drawn"
        ),
        Needed,
    ]
    by: Annotated[str, Doc("the pointer of the default in the plan that was resolved, or what it was worked out by")]
    facts: Annotated[dict[str, object], Doc("what was worked out; bare lengths are in the plan's unit")]
