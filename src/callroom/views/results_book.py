"""The results for keeps: every division's standings and story, what was raised, the seal."""

import msgspec

from callroom.model import State
from callroom.views.masthead import Masthead, masthead
from callroom.views.raised import RaisedView, raised_view
from callroom.views.standings import Standings, standings
from callroom.views.story import Story, story
from callroom.views.timetable import Audience


class ResultsBook(msgspec.Struct, frozen=True, kw_only=True):
    """The day's results; `seal` covers entry `seq`, the last that is in them.

    `raised` is None where the director shows no figure. `final`: every division was posted as
    final and nothing has changed since.
    """

    masthead: Masthead
    tables: tuple[Standings, ...]
    stories: tuple[Story, ...]
    raised: RaisedView | None
    seq: int
    seal: str

    @property
    def final(self) -> bool:
        """Whether nothing can change any more."""
        return all(table.final and not table.changed for table in self.tables)


def results_book(state: State, audience: Audience, seal: str) -> ResultsBook:
    """Return the results of all divisions.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    head = masthead(state)
    divisions = state.event.divisions if state.event is not None else ()
    return ResultsBook(
        masthead=head,
        tables=tuple(standings(state, division.id, audience) for division in divisions),
        stories=tuple(story(state, division.id, audience) for division in divisions),
        raised=raised_view(state),
        seq=state.seq,
        seal=seal,
    )
