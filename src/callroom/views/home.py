"""The public start page: what is on now, what is next, and every team's own page."""

import msgspec

from callroom.model import State
from callroom.views.board import Board, board
from callroom.views.day_times import NO_TIMES, DayTimes
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import Audience


class TeamLink(msgspec.Struct, frozen=True, kw_only=True):
    """A team by name, leading to its own day."""

    id: str
    name: str
    withdrawn: bool


class DivisionLink(msgspec.Struct, frozen=True, kw_only=True):
    """A division with its teams by name."""

    id: str
    name: str
    teams: tuple[TeamLink, ...]


class Home(msgspec.Struct, frozen=True, kw_only=True):
    """The start page; `now` is the call board as the public sees it, one heat a floor ahead."""

    head: PageHead
    now: Board
    divisions: tuple[DivisionLink, ...]


def home(state: State, audience: Audience, *, times: DayTimes = NO_TIMES) -> Home:
    """Return the start page for `audience`; `times` is when heats are to be expected."""
    return Home(
        head=page_head(state),
        now=board(state, audience, next_per_floor=1, times=times),
        divisions=division_links(state),
    )


def division_links(state: State) -> tuple[DivisionLink, ...]:
    """Return the divisions in the event's order, each with its teams by name."""
    divisions = state.event.divisions if state.event is not None else ()
    return tuple(
        DivisionLink(
            id=division.id,
            name=division.name,
            teams=tuple(
                TeamLink(id=team.id, name=team.name, withdrawn=team.id in state.team_status)
                for team in sorted(
                    state.teams.values(), key=lambda team: (team.name.casefold(), team.id)
                )
                if team.division == division.id
            ),
        )
        for division in divisions
    )
