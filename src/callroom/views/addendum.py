"""The addendum: what was ruled and amended after the briefing was printed, on one sheet."""

import msgspec

from callroom.model import State
from callroom.views.amendment_text import AmendmentText, amendments
from callroom.views.masthead import Masthead, masthead
from callroom.views.rulings import RulingText, rulings


class Addendum(msgspec.Struct, frozen=True, kw_only=True):
    """Every amendment and ruling by number, as at `at_ms` [ms, UTC], for the crew."""

    masthead: Masthead
    at_ms: int
    rulings: tuple[RulingText, ...]
    amendments: tuple[AmendmentText, ...]

    @property
    def empty(self) -> bool:
        """Whether there is nothing to print."""
        return not self.rulings and not self.amendments


def addendum(state: State) -> Addendum:
    """Return the addendum of a book as it stands.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    return Addendum(
        masthead=masthead(state),
        at_ms=state.at_ms,
        rulings=rulings(state),
        amendments=amendments(state),
    )
