"""How money is written: amounts, and what lines, places and deeds are called."""

from collections.abc import Mapping
from gettext import NullTranslations
from types import MappingProxyType

from callroom.funds import Account, Needs
from callroom.model.currency import exact_amount, minor_digits
from callroom.model.money import Budget, LineSort, PlaceSort
from callroom.model.words import N_
from callroom.views.wording import ENGLISH, marked

# Thousands are set apart by a narrow blank that does not break, as ISO 80000-1 has it: a comma
# or a point would mean two things in two languages.
THIN = "\u202f"
_BLANK = "\u00a0"

SORTS: Mapping[LineSort, str] = MappingProxyType(
    {
        "entries": N_("entries"),
        "sponsors": N_("sponsors"),
        "stalls": N_("stall takings"),
        "raffle": N_("raffle"),
        "donations": N_("donations"),
        "shirts": N_("shirts"),
        "insurance": N_("insurance"),
        "hire": N_("hire"),
        "prizes": N_("prizes"),
        "food": N_("food"),
        "fees": N_("card fees"),
        "difference": N_("cash differences"),
        "other": N_("other"),
    }
)
PLACE_SORTS: Mapping[PlaceSort, str] = MappingProxyType(
    {"cash": N_("cash"), "bank": N_("bank account"), "card": N_("card, not paid out yet")}
)
_ENDS: Mapping[str, str] = MappingProxyType(
    {
        "lent": N_("lent for the tills"),
        "owed": N_("owed to {person}"),
        "cause": N_("handed over to the cause"),
        "next_year": N_("kept for next year"),
    }
)
DEEDS: Mapping[str, str] = MappingProxyType(
    {
        "received": N_("received"),
        "spent": N_("spent"),
        "shifted": N_("moved"),
        "counted": N_("counted"),
        "returned": N_("returned"),
        "refund": N_("refunded"),
        "gift": N_("turned into a gift"),
        "move": N_("moved to another team"),
        "next_year": N_("kept for next year"),
        "reversed": N_("taken back"),
    }
)
NEEDS: Mapping[Needs, str] = MappingProxyType(
    {
        "ask_adviser": N_(
            "Whether and how this can be set against tax depends on the country: please ask the "
            "charity or an adviser."
        ),
        "charity_issues": N_(
            "This letter is a thank-you and a record of what we received. An official receipt is "
            "issued by the charity only."
        ),
        "written_needed": N_(
            "From 250 USD a donor needs a written acknowledgment by the charity: please keep it."
        ),
        "value_stated": N_(
            "In return you had something worth {benefit} in our good-faith estimate; the "
            "part that was given is {gift}."
        ),
        "nothing_in_return": N_("Nothing was given in return."),
        "benefit_ignored": N_(
            "What was given in return is of so little value that it need not be taken off."
        ),
        "benefit_too_high": N_(
            "What was given in return is worth too much for this to count as a donation."
        ),
        "not_a_donation": N_("Paying for a place, a ticket or goods is no donation."),
        "declaration": N_(
            "If you pay tax here and sign a declaration, the charity can reclaim {reclaim} more."
        ),
    }
)


def money(minor: int, currency: str, words: NullTranslations = ENGLISH) -> str:
    """Return an amount with its currency: ``"1 234.50 EUR"``, blanks that do not break."""
    return f"{amount(minor, currency, words)}{_BLANK}{currency}"


def amount(minor: int, currency: str, words: NullTranslations = ENGLISH) -> str:
    """Return an amount without its currency, for columns: ``"−1 234.50"``."""
    grouped = f"{abs(exact_amount(minor, currency)):,}".replace(",", THIN)
    text = marked(grouped, words)
    return f"\u2212{text}" if minor < 0 else text


def whole_money(minor: int, currency: str) -> str:
    """Return an amount cut off to whole units, for large letters: ``"1 234 EUR"``."""
    unit: int = 10 ** minor_digits(currency)
    units = abs(minor) // unit
    sign = "\u2212" if minor < 0 and units else ""
    return f"{sign}{units:,}{_BLANK}{currency}".replace(",", THIN)


def typed(minor: int, currency: str) -> str:
    """Return an amount as it stands in a field: ``"1234.50"``; empty for nothing."""
    return str(exact_amount(minor, currency)) if minor else ""


def account(
    value: Account,
    budget: Budget,
    people: Mapping[str, str],
    words: NullTranslations = ENGLISH,
) -> str:
    """Return what an account is called; `people` are names by id, an erased one has none."""
    if value.sort == "place":
        return next((one.name for one in budget.places if one.id == value.id), value.id)
    if value.sort == "line":
        return next((one.name for one in budget.lines if one.id == value.id), value.id)
    person = people.get(value.id) or words.gettext("somebody")
    return words.gettext(_ENDS[value.sort]).format(person=person)
