"""Questions put to a part: what is stated, what is stated otherwise, and what its kind could never state."""

import pytest

from nailplate.plan import Circuit, Device, Pointer, UnknownFact
from nailplate.plan.trade import SWITCHES
from nailplate.plan.words import DeviceKind, Mount, Purpose

LAUNDRY = Circuit(Pointer("/circuits/c"), {"purpose": Purpose.LAUNDRY})
UNSAID = Circuit(Pointer("/circuits/d"), {})
DIMMER = Device(Pointer("/devices/s"), {"kind": DeviceKind.DIMMER, "mount": Mount.WALL})


def test_a_stated_fact_is_told_from_one_stated_otherwise_and_one_left_out() -> None:
    assert LAUNDRY.is_(purpose=Purpose.LAUNDRY)
    assert not LAUNDRY.is_(purpose=Purpose.GARAGE)
    assert LAUNDRY.isnt(purpose=Purpose.GARAGE)
    assert not UNSAID.is_(purpose=Purpose.LAUNDRY)
    assert not UNSAID.isnt(purpose=Purpose.LAUNDRY)


def test_several_facts_are_all_meant() -> None:
    assert DIMMER.is_(kind=DeviceKind.DIMMER, mount=Mount.WALL)
    assert not DIMMER.is_(kind=DeviceKind.DIMMER, mount=Mount.CEILING)
    assert DIMMER.isnt(kind=DeviceKind.DIMMER, mount=Mount.CEILING)


def test_a_fact_is_looked_for_in_a_set_of_words() -> None:
    assert DIMMER.is_among(kind=SWITCHES)
    assert not DIMMER.is_among(kind={DeviceKind.FAN})
    assert not Device(Pointer("/devices/x"), {}).is_among(kind=SWITCHES)


@pytest.mark.parametrize("ask", ["knows", "is_", "isnt", "is_among"])
def test_a_name_that_the_kind_lacks_is_refused(ask: str) -> None:
    question = getattr(UNSAID, ask)
    with pytest.raises(AttributeError, match="a Circuit has no fact 'mount'") as refused:
        question("mount") if ask == "knows" else question(mount=())
    assert not isinstance(refused.value, UnknownFact)


def test_whether_a_kind_may_state_a_fact_is_asked_of_any_part() -> None:
    assert Device.may_state("mount")
    assert not UNSAID.may_state("mount")
