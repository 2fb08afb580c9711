"""What a letter to somebody who gave must say, by the published thresholds of some countries.

Facts to help writing, never tax advice: the charity and its adviser decide. Where the country
is not known here, or the event is in another currency, the letter says to ask them.
"""

from fractions import Fraction
from typing import Literal

import msgspec

from callroom.funds.exact import rounded
from callroom.model.money import Country

Needs = Literal[
    "ask_adviser",
    "charity_issues",
    "written_needed",
    "value_stated",
    "nothing_in_return",
    "benefit_ignored",
    "benefit_too_high",
    "not_a_donation",
    "declaration",
]

CURRENCIES: dict[Country, str] = {"us": "USD", "ca": "CAD", "gb": "GBP"}

# IRS Publication 1771 (Rev. 3-2016): a written acknowledgment for a single contribution of
# 250 USD or more; a statement with the value given in return where a payment is above 75 USD;
# a benefit may be ignored at or under 2 % of the payment and 106 USD (2016, indexed since, so
# the real bound is higher). Publication 557: the test is on the payment, not on the gift in it.
US_WRITTEN_FROM = 250_00
US_STATEMENT_ABOVE = 75_00
US_IGNORED_PERCENT = 2
US_IGNORED_AT_MOST = 106_00

# Canada Revenue Agency, split receipting: an advantage is ignored at or under the lesser of 75
# CAD and 10 % of the gift, except the purpose of the event itself; above 80 % there is no gift.
CA_IGNORED_PERCENT = 10
CA_IGNORED_AT_MOST = 75_00
CA_GIFT_BELOW_PERCENT = 80

# HM Revenue and Customs, donor benefits from April 2019: 25 % of the first 100 GBP and 5 % of
# the rest, at most 2,500 GBP; Gift Aid reclaims a quarter of the donation; paying for a place,
# ticket or goods is no donation.
GB_FIRST, GB_FIRST_PERCENT, GB_REST_PERCENT, GB_AT_MOST = 100_00, 25, 5, 2_500_00
GB_RECLAIM_PART = 4


class Acknowledgment(msgspec.Struct, frozen=True, kw_only=True):
    """What is a gift in a payment [minor units], and what a letter about it must say.

    `benefit` is the value in return as it counts; `reclaim` what the charity may reclaim of
    the state, where there is such a thing.
    """

    paid: int
    benefit: int
    gift: int
    needs: tuple[Needs, ...]
    reclaim: int | None = None


def acknowledge(
    country: Country, currency: str, *, paid: int, benefit: int, is_gift: bool
) -> Acknowledgment:
    """Return what a letter about one payment must say.

    Parameters
    ----------
    paid, benefit
        What was paid, and what the payer got for it, in good faith [minor units].
    is_gift
        It was given, as a donation or by a sponsor; not paid for a place, ticket or goods.
    """
    if not country or CURRENCIES[country] != currency:
        return _elsewhere(paid, benefit)
    by_country = {"us": _united_states, "ca": _canada, "gb": _united_kingdom}
    return by_country[country](paid, benefit, is_gift)


def gb_most_benefit(donation: int) -> int:
    """Return the most that a donor may get for a donation [pence] with Gift Aid still due."""
    first, rest = min(donation, GB_FIRST), max(donation - GB_FIRST, 0)
    allowed = Fraction(first * GB_FIRST_PERCENT + rest * GB_REST_PERCENT, 100)
    return min(rounded(allowed), GB_AT_MOST)


def _elsewhere(paid: int, benefit: int) -> Acknowledgment:
    return Acknowledgment(
        paid=paid, benefit=benefit, gift=max(paid - benefit, 0), needs=("ask_adviser",)
    )


def _united_states(paid: int, benefit: int, is_gift: bool) -> Acknowledgment:  # noqa: ARG001, FBT001
    ignored = 0 < benefit * 100 <= min(paid * US_IGNORED_PERCENT, US_IGNORED_AT_MOST * 100)
    counted = 0 if ignored else benefit
    gift = max(paid - counted, 0)
    needs: list[Needs] = ["charity_issues"]
    if gift >= US_WRITTEN_FROM:
        needs.append("written_needed")
    if counted and paid > US_STATEMENT_ABOVE:
        needs.append("value_stated")
    if ignored:
        needs.append("benefit_ignored")
    elif not benefit:
        needs.append("nothing_in_return")
    return Acknowledgment(paid=paid, benefit=counted, gift=gift, needs=tuple(needs))


def _canada(paid: int, benefit: int, is_gift: bool) -> Acknowledgment:  # noqa: FBT001
    small = benefit * 100 <= min(paid * CA_IGNORED_PERCENT, CA_IGNORED_AT_MOST * 100)
    # What the event is about is always deducted, however little it is worth.
    ignored = is_gift and benefit > 0 and small
    counted = 0 if ignored else benefit
    too_high = counted * 100 > paid * CA_GIFT_BELOW_PERCENT
    needs: list[Needs] = ["charity_issues"]
    if too_high:
        needs.append("benefit_too_high")
    elif ignored:
        needs.append("benefit_ignored")
    elif counted:
        needs.append("value_stated")
    else:
        needs.append("nothing_in_return")
    gift = 0 if too_high else paid - counted
    return Acknowledgment(paid=paid, benefit=counted, gift=gift, needs=tuple(needs))


def _united_kingdom(paid: int, benefit: int, is_gift: bool) -> Acknowledgment:  # noqa: FBT001
    if not is_gift:
        return Acknowledgment(
            paid=paid, benefit=benefit, gift=0, needs=("charity_issues", "not_a_donation")
        )
    if benefit > gb_most_benefit(paid):
        return Acknowledgment(
            paid=paid, benefit=benefit, gift=0, needs=("charity_issues", "benefit_too_high")
        )
    said: Needs = "value_stated" if benefit else "nothing_in_return"
    return Acknowledgment(
        paid=paid,
        benefit=benefit,
        gift=paid,
        needs=("charity_issues", said, "declaration"),
        reclaim=rounded(Fraction(paid, GB_RECLAIM_PART)),
    )
