"""What cash is counted in, and the sheet on which two people count it."""

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from callroom.model import NotFound, State
from callroom.model.currency import minor_digits
from callroom.views.page_head import PageHead, page_head

# Notes and coins in everyday use, in minor units, largest first. From memory: nothing rests on
# them, since any other piece can be entered as an amount of its own.
_PIECES: Mapping[str, tuple[int, ...]] = MappingProxyType(
    {
        "EUR": (
            *(200_00, 100_00, 50_00, 20_00, 10_00, 5_00, 2_00, 1_00),
            *(50, 20, 10, 5, 2, 1),
        ),
        "GBP": (50_00, 20_00, 10_00, 5_00, 2_00, 1_00, 50, 20, 10, 5, 2, 1),
        "USD": (100_00, 50_00, 20_00, 10_00, 5_00, 2_00, 1_00, 50, 25, 10, 5, 1),
        "CAD": (100_00, 50_00, 20_00, 10_00, 5_00, 2_00, 1_00, 25, 10, 5),
        "AUD": (100_00, 50_00, 20_00, 10_00, 5_00, 2_00, 1_00, 50, 20, 10, 5),
        "NZD": (100_00, 50_00, 20_00, 10_00, 5_00, 2_00, 1_00, 50, 20, 10),
        "CHF": (200_00, 100_00, 50_00, 20_00, 10_00, 5_00, 2_00, 1_00, 50, 20, 10, 5),
        "JPY": (10_000, 5_000, 2_000, 1_000, 500, 100, 50, 10, 5, 1),
    }
)
_LARGEST = 200


def pieces(currency: str) -> tuple[int, ...]:
    """Return the values [minor units] that cash of a currency is counted in, largest first.

    A currency that is not listed is counted in ones, twos and fives of every size up to 200
    units.
    """
    listed = _PIECES.get(currency)
    if listed is not None:
        return listed
    unit: int = 10 ** minor_digits(currency)
    sizes = [digit * 10**power for power in range(8) for digit in (1, 2, 5)]
    return tuple(size for size in reversed(sizes) if size <= _LARGEST * unit)


class CountSheet(msgspec.Struct, frozen=True, kw_only=True):
    """Sheets to count cash on: one for each place with cash, with the values it comes in."""

    head: PageHead
    at_ms: int
    currency: str
    places: tuple[str, ...]
    values: tuple[int, ...]


def count_sheet(state: State) -> CountSheet:
    """Return the sheets; NotFound without an event or a budget."""
    if state.event is None:
        raise NotFound("book.no_event")
    if state.budget is None:
        raise NotFound("money.no_budget")
    return CountSheet(
        head=page_head(state),
        at_ms=state.at_ms,
        currency=state.event.currency,
        places=tuple(one.name for one in state.budget.places if one.sort == "cash"),
        values=pieces(state.event.currency),
    )
