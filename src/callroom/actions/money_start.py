"""A budget to begin with: the usual lines of a charity day, nothing in them yet."""

from collections.abc import Callable, Mapping

from callroom.model import Event
from callroom.model.money import Budget, BudgetLine, LineSort, Place, PlaceSort, Scenario, TeamsOf
from callroom.model.words import N_

# What a day usually earns and costs, and in which scenario how many of its places are taken
# (common practice, no source).
_INCOME: tuple[tuple[str, LineSort, str], ...] = (
    ("sponsors", "sponsors", N_("Sponsors")),
    ("donations", "donations", N_("Donations")),
    ("stalls", "stalls", N_("Stalls")),
    ("raffle", "raffle", N_("Raffle")),
    ("shirts_sold", "shirts", N_("Shirts sold")),
)
_COSTS: tuple[tuple[str, LineSort, str], ...] = (
    ("hire", "hire", N_("Hire of hall and kit")),
    ("insurance", "insurance", N_("Insurance")),
    ("shirts", "shirts", N_("Shirts")),
    ("food", "food", N_("Food and drink for crew and athletes")),
    ("prizes", "prizes", N_("Prizes")),
    ("fees", "fees", N_("Card fees")),
    ("difference", "difference", N_("Cash differences")),
)
_PLACES: tuple[tuple[str, PlaceSort, str], ...] = (
    ("box", "cash", N_("Cash box")),
    ("till", "cash", N_("Stall till")),
    ("bank", "bank", N_("Bank account")),
    ("card", "card", N_("Card reader")),
)
_SCENARIOS: tuple[tuple[str, str, int, int], ...] = (
    ("careful", N_("careful"), 60, 70),
    ("likely", N_("likely"), 85, 100),
    ("full", N_("full house"), 100, 115),
)
_UNLIMITED = 10


def starter_budget(event: Event, say: Callable[[str], str] = str) -> Budget:
    """Return the usual lines, places and scenarios, named in the words of `say`."""
    entries = tuple(
        BudgetLine(
            id=f"entries_{division.id}"[:40],
            name=say(N_("Entries, {division}")).format(division=division.name),
            side="income",
            sort="entries",
            division=division.id,
        )
        for division in event.divisions
    )
    limits = {one.id: one.team_limit or _UNLIMITED for one in event.divisions}
    return Budget(
        lines=(
            *entries,
            *(
                BudgetLine(id=one, name=say(name), side="income", sort=sort)
                for one, sort, name in _INCOME
            ),
            *(
                BudgetLine(id=one, name=say(name), side="cost", sort=sort)
                for one, sort, name in _COSTS
            ),
        ),
        places=tuple(Place(id=one, name=say(name), sort=sort) for one, sort, name in _PLACES),
        scenarios=tuple(
            Scenario(id=one, name=say(name), teams=_teams(limits, share), income_percent=income)
            for one, name, share, income in _SCENARIOS
        ),
    )


def _teams(limits: Mapping[str, int], percent: int) -> tuple[TeamsOf, ...]:
    return tuple(
        TeamsOf(division=name, count=limit * percent // 100) for name, limit in limits.items()
    )
