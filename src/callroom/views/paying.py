"""How one team pays its fee: how much, by which reference, to which account."""

import unicodedata
from decimal import Decimal
from string import ascii_letters, digits

import msgspec

from callroom.model import State, Team
from callroom.model.currency import exact_amount
from callroom.model.iban import spaced_iban
from callroom.model.paying import PayTo
from callroom.views.entry_fees import entry_fees

# Half of what EPC069-12 allows (140), so that with the longest name of an account it still fits.
MOST_REFERENCE = 70
# What every bank passes on. Source: European Payments Council, EPC217-08, "SEPA requirements for an
# extended character set": the Latin letters, figures and these signs.
_PASSED_ON = frozenset(ascii_letters + digits + "/-?:().,'+ ")


class Payable(msgspec.Struct, frozen=True, kw_only=True):
    """What a team has paid and has to pay [minor units].

    Attributes
    ----------
    reference
        What the transfer must say, so that the treasurer knows whose it is.
    amount
        What is still missing as an exact decimal of the currency.
    by_code
        Whether a payment code for the euro area can be shown: in euro, to an IBAN.
    """

    asked: int
    paid: int
    missing: int
    reference: str
    amount: Decimal
    iban: str
    to: PayTo
    by_code: bool


def payable(state: State, team: Team, to: PayTo) -> Payable | None:
    """Return how a team pays; None if it is not in, has left, or nothing is asked of it."""
    fee = next((one for one in entry_fees(state) if one.team == team.id), None)
    if fee is None or fee.out or not (fee.asked or fee.paid):
        return None
    currency = state.event.currency if state.event is not None else ""
    return Payable(
        asked=fee.asked,
        paid=fee.paid,
        missing=fee.missing,
        reference=reference_of(team),
        amount=exact_amount(fee.missing, currency),
        iban=spaced_iban(to.iban),
        to=to,
        by_code=bool(currency == "EUR" and to.iban and to.name and fee.missing),
    )


def reference_of(team: Team) -> str:
    """Return the reference of a team's transfer: its number and its name, as banks pass it on."""
    plain = unicodedata.normalize("NFKD", team.name.replace("ß", "ss"))
    kept = (" " if sign in "&_" else sign for sign in plain)
    name = "".join(sign for sign in kept if sign in _PASSED_ON)
    return f"{team.id} {' '.join(name.split())}"[:MOST_REFERENCE].strip()
