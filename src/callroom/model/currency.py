"""Currencies: how many digits their smallest unit has, and amounts as people type them."""

import re
from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from callroom.model.errors import CallroomError

USUAL_DIGITS = 2

# Currencies whose minor unit is not a hundredth. Source: ISO 4217, list of currency and funds
# codes, minor units, as carried by the internationalisation data of Firefox
# (searchfox.org, js/src/builtin/intl/CurrencyDataGenerated.js).
_OTHER_DIGITS: Mapping[int, tuple[str, ...]] = MappingProxyType(
    {
        0: (
            *("BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX"),
            *("UYI", "VND", "VUV", "XAF", "XOF"),
        ),
        3: ("BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"),
        4: ("CLF", "UYW"),
    }
)
_DIGITS = MappingProxyType(
    {code: digits for digits, all_ in _OTHER_DIGITS.items() for code in all_}
)

MOST_MINOR = 10**12
"""Bound of one amount [minor units]; our own choice, far above any charity day."""

# Groups of three by blanks or apostrophes, then at most one mark before the minor units.
_TYPED = re.compile(r"(\d{1,13}|\d{1,3}(?:[ '\u00a0\u202f\u2019]\d{3}){1,4})(?:[.,](\d{1,4}))?")


class BadAmount(CallroomError):
    """A text that is no amount of money.

    Rules: ``money.no_amount`` (`given`), ``money.too_fine`` (`given`, `currency`, `digits`:
    more digits behind the mark than the currency has), ``money.too_large`` (`given`).
    """


def minor_digits(currency: str) -> int:
    """Return how many digits the minor unit of an ISO 4217 currency has: 2 for ``"EUR"``."""
    return _DIGITS.get(currency, USUAL_DIGITS)


def exact_amount(minor: int, currency: str) -> Decimal:
    """Return an amount [minor units] as an exact decimal of the currency: 1250 is ``12.50``."""
    return Decimal(minor).scaleb(-minor_digits(currency))


def read_amount(text: str, currency: str) -> int:
    """Return an amount as typed, in minor units: ``"12.50"``, ``"12,5"``, ``"1 200"``.

    A point and a comma both stand before the minor units; thousands may be set apart by
    blanks or apostrophes only, since ``1,200`` would mean two things.

    Raises
    ------
    BadAmount
        If it is no amount, finer than the currency, or impossibly large.
    """
    plain = text.strip()
    found = _TYPED.fullmatch(plain)
    if found is None or not _plain_digits(plain):
        raise BadAmount("money.no_amount", given=plain[:40])
    digits = minor_digits(currency)
    whole, part = re.sub(r"\D", "", found[1]), found[2] or ""
    if len(part) > digits:
        raise BadAmount("money.too_fine", given=plain[:40], currency=currency, digits=digits)
    minor = int(whole + part.ljust(digits, "0"))
    if minor > MOST_MINOR:
        raise BadAmount("money.too_large", given=plain[:40])
    return minor


def _plain_digits(text: str) -> bool:
    return all(sign.isascii() for sign in text if sign.isdigit())
