"""An invented budget for a rehearsal of a book that has none."""

from collections.abc import Mapping
from types import MappingProxyType

from msgspec.structs import replace

from callroom.actions.money_start import starter_budget
from callroom.model import Event
from callroom.model.currency import minor_digits
from callroom.model.money import Budget

_PLANNED: Mapping[str, int] = MappingProxyType(
    {
        "sponsors": 600,
        "donations": 400,
        "stalls": 350,
        "raffle": 250,
        "insurance": 180,
        "shirts": 0,
        "food": 220,
        "prizes": 120,
        "fees": 60,
    }
)
_FEE, _BENEFIT = 30, 8
"""A team's entry for each athlete, and what of it comes back as lunch and water."""


def invented_budget(event: Event) -> Budget:
    """Return the usual budget with invented sums in it, shown to the hall."""
    unit = money_unit(event.currency)
    start = starter_budget(event)
    sizes = {one.id: one.team_size for one in event.divisions}
    fixed = {**_PLANNED, "hire": _hire(event) + 30}
    lines = tuple(
        replace(
            line,
            fixed=fixed.get(line.id, 0) * unit,
            per_team=sizes.get(line.division, 0) * _FEE * unit,
            per_head=3 * unit if line.id == "food" else 0,
            benefit=sizes.get(line.division, 0) * _BENEFIT * unit,
        )
        for line in start.lines
    )
    places = sum(one.count for one in start.scenarios[-1].teams)
    return replace(start, lines=lines, goal=(places * 120 + 500) * unit, on_screen=True)


def _hire(event: Event) -> int:
    """Return what hall and kit cost, by the athletes of a full house [about euros]."""
    sizes = {one.id: one.team_size for one in event.divisions}
    full = starter_budget(event).scenarios[-1]
    return 70 + 8 * sum(one.count * sizes[one.division] for one in full.teams)


def money_unit(currency: str) -> int:
    """Return the minor units of about one euro: a hundred of a currency without minor units."""
    digits = minor_digits(currency)
    return int(10**digits) if digits else 100
