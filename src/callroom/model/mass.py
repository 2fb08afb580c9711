"""Loads: kept as published or as loaded, compared with the exact factor."""

from decimal import Decimal
from fractions import Fraction
from typing import Literal

import msgspec

# Source: international avoirdupois pound, exactly 0.45359237 kg
# (International Yard and Pound Agreement, 1959; NIST Handbook 44, Appendix C).
GRAMS_PER_POUND = Fraction(45359237, 100000)

MassUnit = Literal["kg", "lb"]

LARGEST_EXPONENT = 12
"""The powers of ten that the amount of a mass may have, up or down."""


class Mass(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One load as somebody loaded or published it, never converted in storage.

    An `amount` that is no number, or of a size no number on a card ever has, is not a mass:
    a phone that sends one is refused as ill-formed.
    """

    amount: Decimal
    unit: MassUnit = "kg"

    def __post_init__(self) -> None:
        """Refuse what cannot be compared or would take for ever to."""
        if not self.amount.is_finite() or abs(self.amount.adjusted()) > LARGEST_EXPONENT:
            raise ValueError("the amount of a mass is a number of ordinary size")

    def grams(self) -> Fraction:
        """Return the exact mass [g]."""
        per_unit = Fraction(1000) if self.unit == "kg" else GRAMS_PER_POUND
        return Fraction(self.amount) * per_unit


class PublishedLoad(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A prescribed load; published pairs such as 43 kg / 95 lb are conventions, so both stay.

    `division` and `category` say for whom (empty: for all); `count` is how many of the
    implement one athlete holds, and is said aloud ("two of 15 kg").
    """

    division: str = ""
    category: str = ""
    kg: Decimal | None = None
    lb: Decimal | None = None
    count: int = 1


class PublishedHeight(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A prescribed height of a box, target or rope, in centimetres and inches as published."""

    division: str = ""
    category: str = ""
    cm: Decimal | None = None
    inch: Decimal | None = None
