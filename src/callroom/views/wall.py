"""Standings for the wall: what is hung up, until when it can be appealed, and what seals it."""

import msgspec

from callroom.model import State
from callroom.views.masthead import Masthead, masthead
from callroom.views.standings import Standings, standings
from callroom.views.timetable import Audience


class WallStandings(msgspec.Struct, frozen=True, kw_only=True):
    """The standings of some divisions as of an entry.

    `at_ms` is when entry `seq` was stored [ms, UTC], `seal` its printed seal: against it
    anybody can later have the book verified.
    """

    masthead: Masthead
    tables: tuple[Standings, ...]
    at_ms: int
    seq: int
    seal: str


def wall_standings(
    state: State, audience: Audience, seal: str, division_id: str = ""
) -> WallStandings:
    """Return the sheet of every division, or of one.

    Raises
    ------
    NotFound
        Without an event, a published plan, or such a division.
    """
    head = masthead(state)
    divisions = state.event.divisions if state.event is not None else ()
    chosen = (division_id,) if division_id else tuple(division.id for division in divisions)
    return WallStandings(
        masthead=head,
        tables=tuple(standings(state, one, audience) for one in chosen),
        at_ms=state.at_ms,
        seq=state.seq,
        seal=seal,
    )
