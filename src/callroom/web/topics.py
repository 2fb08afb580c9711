"""The topics of the live stream: which view each shows, and to whom it may be shown."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Protocol

from callroom.bootstrap.chances import podium_chances
from callroom.bootstrap.searches import Searches
from callroom.model import State
from callroom.views.announcer import announcer
from callroom.views.board import board
from callroom.views.day_times import NO_LENGTHS, NO_TIMES, DayTimes, FloorLengths, day_times
from callroom.views.embargo import as_public
from callroom.views.floor_desk import floor_desk
from callroom.views.heat_clock import floor_clock
from callroom.views.home import home
from callroom.views.page_head import public_at, released
from callroom.views.raised import raised_view
from callroom.views.screen import hall_screen
from callroom.views.side_programme import side_times
from callroom.views.stake import stake
from callroom.views.standings import standings
from callroom.views.team_day import team_day
from callroom.views.timetable import CREW, Audience, timetable
from callroom.web.pages import Pages
from callroom.web.search_shown import search_shown
from callroom.web.visitor import Visitor

# The board with buttons: all of them, or only those to mark a team as arrived.
HANDS = {"board/floor": "heat.called", "board/desk": "team.arrived"}

# What the director looks for; shown to nobody else.
SEARCH = "director/search"

# The parts of the State that a topic is drawn from; a topic not listed reads nearly all.
READS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "standings": (
            "event",
            "teams",
            "team_status",
            "line_ups",
            "sheets",
            "reruns",
            "postings",
            "amendments",
            "appeals",
            "embargo",
            "rehearsal",
        ),
        "stake": (
            "event",
            "teams",
            "team_status",
            "line_ups",
            "sheets",
            "reruns",
            "amendments",
            "embargo",
            "rehearsal",
        ),
        "announcer": (
            "event",
            "teams",
            "team_status",
            "line_ups",
            "plan",
            "heats",
            "sheets",
            "reruns",
            "postings",
            "amendments",
            "appeals",
            "embargo",
            "rehearsal",
        ),
        "screen": (
            "event",
            "teams",
            "team_status",
            "line_ups",
            "plan",
            "heats",
            "sheets",
            "reruns",
            "postings",
            "amendments",
            "appeals",
            "embargo",
            "screen",
            "side",
            "budget",
            "bookings",
            "rehearsal",
        ),
        "clock": (
            "event",
            "teams",
            "team_status",
            "plan",
            "heats",
            "sheets",
            "reruns",
            "amendments",
            "rehearsal",
        ),
        "raised": ("event", "budget", "bookings", "rehearsal"),
        "timetable": (
            "event",
            "teams",
            "team_status",
            "plan",
            "heats",
            "side",
            "ground",
            "rehearsal",
        ),
    }
)


# The parts that tell when heats are to be expected, and how often the clock is looked at for it.
_TIMED_BY = ("event", "teams", "team_status", "plan", "heats", "losses")
_LOOK_MS = 10_000


class Lengths(Protocol):
    """Knows how long heats are forecast to hold their floor."""

    def of(self, state: State) -> FloorLengths:
        """Return it for the event as it stands, as far as it is known yet."""


def may_listen(name: str, visitor: Visitor) -> bool:
    """Whether a visitor may see a topic; what the crew sees may not be released yet."""
    if name == SEARCH:
        return visitor.role == "director" and visitor.private
    crew_only = name in HANDS or name.startswith(("pad/", "floor/"))
    return not crew_only or visitor.actor is not None


def board_topic(visitor: Visitor) -> str:
    """Return the board's topic with the buttons that a visitor may use."""
    return next((name for name, kind in HANDS.items() if visitor.may(kind)), "board")


class Topics:
    """Draws every topic of one book."""

    def __init__(
        self, pages: Pages, searches: Searches | None = None, lengths: Lengths | None = None
    ) -> None:
        """Render by `pages`.

        `searches` has what is being looked for, `lengths` how long heats are forecast to take.
        """
        self._pages = pages
        self._searches = searches
        self._lengths = lengths
        self._kept: dict[str, tuple[tuple[object, ...], str]] = {}
        self._times: tuple[tuple[object, ...], DayTimes] | None = None

    def draw(self, name: str, state: State, now_ms: int) -> str | None:
        """Return the HTML that a topic shows; None if there is no such topic.

        A topic that names the parts of the State it reads is drawn anew only when one of
        them has changed: a State shares the parts that an entry leaves alone.
        """
        public = public_at(state, now_ms)
        reads = READS.get(name.partition("/")[0])
        if reads is None:
            return self._draw(name, state, public, self.times(state, now_ms))
        times = NO_TIMES if name.startswith(("standings/", "stake/")) else self.times(state, now_ms)
        seen = released(state, public), times
        read = (*(getattr(state, part) for part in reads), seen)
        before = self._kept.get(name)
        if before is not None and _same(before[0], read):
            return before[1]
        text = self._draw(name, state, public, times)
        if text is not None:
            self._kept[name] = (read, text)
        return text

    def times(self, state: State, now_ms: int) -> DayTimes:
        """Return when every heat is to be expected, worked out once for some seconds."""
        lengths = self._lengths.of(state) if self._lengths is not None else NO_LENGTHS
        read = (*(getattr(state, part) for part in _TIMED_BY), lengths, now_ms // _LOOK_MS)
        if self._times is None or not _same(self._times[0], read):
            now_s = public_at(state, now_ms).now_s
            self._times = read, day_times(state, now_s, lengths)
        return self._times[1]

    def _draw(self, name: str, state: State, public: Audience, times: DayTimes) -> str | None:
        first, _, rest = name.partition("/")
        fragment = self._pages.fragment
        if name == "now":
            return fragment("parts/now.html", home(state, public, times=times).now, state)
        if name == "board" or name in HANDS:
            shown = board(state, CREW if name in HANDS else public, times=times)
            return fragment("parts/board.html", shown, state, hands=rest)
        if first == "team" and rest in state.teams and state.plan is not None:
            day_of_team = team_day(state, rest, public)
            return fragment("parts/team_day.html", day_of_team, state, times=times)
        if first == "floor" and rest in _floor_ids(state):
            return fragment("parts/floor.html", floor_desk(state, rest, times=times), state)
        if name == "timetable":
            day = timetable(state, public) if state.event and state.plan else None
            side = side_times(state)
            return fragment("parts/timetable.html", day, state, times=times, side=side)
        if name == "announcer":
            return fragment("parts/announcer.html", announcer(state, public, times=times), state)
        if name == "screen":
            return fragment("parts/screen.html", hall_screen(state, public, times=times), state)
        if name == "raised":
            return fragment("parts/raised.html", raised_view(state), state)
        if name == SEARCH:
            return fragment("parts/search.html", search_shown(state, self._searches), state)
        if first == "clock" and rest in _floor_ids(state):
            return fragment("parts/clock.html", floor_clock(state, rest, public), state)
        if name == "pad/heats":
            return fragment("parts/pad_heats.html", board(state, CREW, 4, times=times), state)
        if first == "stake" and rest in _division_ids(state):
            played = podium_chances(as_public(state), rest)
            return fragment("parts/stake.html", stake(state, rest, public, played), state)
        if first == "standings" and rest in _division_ids(state):
            return fragment("parts/standings.html", standings(state, rest, public), state)
        return None

    def clock_mark(self, state: State, now_ms: int) -> object:
        """Return which workouts the public may see by now, and how far a search has come."""
        looked = self._searches.version if self._searches is not None else 0
        return looked, released(state, public_at(state, now_ms)), self.times(state, now_ms)


def _same(before: tuple[object, ...], now: tuple[object, ...]) -> bool:
    *parts, seen = now
    *earlier, seen_before = before
    return seen == seen_before and all(a is b for a, b in zip(earlier, parts, strict=True))


def _floor_ids(state: State) -> frozenset[str]:
    floors = state.event.floors if state.event is not None else ()
    return frozenset(floor.id for floor in floors)


def _division_ids(state: State) -> frozenset[str]:
    divisions = state.event.divisions if state.event is not None else ()
    return frozenset(division.id for division in divisions)
