"""Loads as given, compared exactly."""

from decimal import Decimal
from fractions import Fraction

import msgspec
import pytest

from callroom.model import Mass


def test_a_pound_is_exact() -> None:
    # 0.45359237 kg exactly (International Yard and Pound Agreement, 1959).
    assert Mass(amount=Decimal(1), unit="lb").grams() == Fraction("453.59237")
    assert Mass(amount=Decimal("2.5")).grams() == 2500


@pytest.mark.parametrize("amount", ["NaN", "sNaN", "Infinity", "-Infinity", "1E+99999", "1E-99999"])
def test_what_is_no_ordinary_number_is_no_mass(amount: str) -> None:
    with pytest.raises(ValueError, match="ordinary size"):
        Mass(amount=Decimal(amount))
    with pytest.raises(msgspec.ValidationError, match="ordinary size"):
        msgspec.json.decode(msgspec.json.encode({"amount": amount}), type=Mass)


@pytest.mark.parametrize("amount", ["0", "0.00", "102.5", "43.09127515", "-1"])
def test_numbers_as_on_cards_are_kept_as_given(amount: str) -> None:
    sent = msgspec.json.encode(Mass(amount=Decimal(amount)))
    assert str(msgspec.json.decode(sent, type=Mass).amount) == amount
