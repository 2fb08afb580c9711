"""The hall screen: parts that take turns, each for everyone to read from far away."""

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType
from typing import Literal

import msgspec

from callroom.model import SCREEN_PARTS, ScreenPart, State
from callroom.views.board import BoardHeat, FloorPace, board
from callroom.views.day_times import NO_TIMES, DayTimes
from callroom.views.page_head import PageHead, page_head
from callroom.views.raised import RaisedView, raised_view
from callroom.views.side_programme import side_times
from callroom.views.standings import Standings, StandingsRow, standings
from callroom.views.timetable import Audience, PauseSlot, pause_slots

ROWS = 7
"""Lines of a table on one turn: more would be too small to read across a hall."""

_MOST_TURNS = 3
"""Turns that one division's standings may take; who is further down looks at the wall."""


class Slide(msgspec.Struct, frozen=True, kw_only=True):
    """One turn of the screen: its name, which no other turn has, and what its part shows.

    `heat` is set for ``floor`` and ``next``, `table` and `rows` (a page of it) for
    ``standings``, `raised` for ``raised``, `pauses` for ``programme`` (the side programme among them), `lines` for ``thanks``. ``welcome`` has nothing
    but the event's head; it is shown before the first heat and when nothing else is.
    """

    name: str
    part: ScreenPart | Literal["welcome"]
    heat: BoardHeat | None = None
    table: Standings | None = None
    rows: tuple[StandingsRow, ...] = ()
    raised: RaisedView | None = None
    pauses: tuple[PauseSlot, ...] = ()
    lines: tuple[str, ...] = ()


class HallScreen(msgspec.Struct, frozen=True, kw_only=True):
    """Everything the hall screen shows in turn; there is always at least one turn."""

    head: PageHead
    each_s: int
    message: str
    paces: tuple[FloorPace, ...]
    slides: tuple[Slide, ...]


def hall_screen(state: State, audience: Audience, *, times: DayTimes = NO_TIMES) -> HallScreen:
    """Return what the hall screen shows; a part that has nothing to say is left out.

    `times` is when heats are to be expected.
    """
    chosen = [part for part in SCREEN_PARTS if part in state.screen.parts]
    slides = [slide for part in chosen for slide in _PARTS[part](state, audience, times)]
    begun = any(run.started_ms is not None for run in state.heats.values())
    if not slides or not begun:
        slides.insert(0, Slide(name="welcome", part="welcome"))
    return HallScreen(
        head=page_head(state),
        each_s=state.screen.each_s,
        message=state.screen.message,
        paces=board(state, audience, times=times).paces,
        slides=tuple(slides),
    )


def _floor(state: State, audience: Audience, times: DayTimes) -> Iterator[Slide]:
    for heat in board(state, audience, times=times).on_floor:
        yield Slide(name=f"floor-{heat.slot.id}", part="floor", heat=heat)


def _next(state: State, audience: Audience, times: DayTimes) -> Iterator[Slide]:
    now = board(state, audience, next_per_floor=1, times=times)
    for heat in (*now.called, *now.next):
        yield Slide(name=f"next-{heat.slot.id}", part="next", heat=heat)


def _standings(state: State, audience: Audience, _times: DayTimes) -> Iterator[Slide]:
    for division in state.event.divisions if state.event is not None else ():
        table = standings(state, division.id, audience)
        placed = [row for row in table.rows if row.place is not None]
        if not table.counted or not placed:
            continue
        for turn in range(min(_MOST_TURNS, -(-len(placed) // ROWS))):
            rows = tuple(placed[turn * ROWS : (turn + 1) * ROWS])
            name = f"standings-{division.id}-{turn + 1}"
            yield Slide(name=name, part="standings", table=table, rows=rows)


def _raised(state: State, _audience: Audience, _times: DayTimes) -> Iterator[Slide]:
    figure = raised_view(state)
    if figure is not None:
        yield Slide(name="raised", part="raised", raised=figure)


def _programme(state: State, audience: Audience, _times: DayTimes) -> Iterator[Slide]:
    kept = state.plan.pauses if state.plan is not None else ()
    # A pause that keeps a floor free for the side programme stands there itself.
    planned = [
        *pause_slots(pause for pause in kept if not pause.id.startswith("side-")),
        *(
            PauseSlot(id=one.id, name=one.name, start_s=one.start_s, end_s=one.end_s)
            for one in side_times(state)
        ),
    ]
    planned.sort(key=lambda one: (one.start_s, one.end_s, one.id))
    # What is over interests nobody; without a time, as long before, all is still to come.
    over_s = audience.now_s
    pauses = [pause for pause in planned if over_s is None or pause.end_s > over_s]
    if pauses:
        yield Slide(name="programme", part="programme", pauses=tuple(pauses[:ROWS]))


def _thanks(state: State, _audience: Audience, _times: DayTimes) -> Iterator[Slide]:
    lines = state.screen.thanks
    for turn in range(-(-len(lines) // ROWS)):
        part = lines[turn * ROWS : (turn + 1) * ROWS]
        yield Slide(name=f"thanks-{turn + 1}", part="thanks", lines=part)


_PARTS: Mapping[ScreenPart, Callable[[State, Audience, DayTimes], Iterator[Slide]]] = (
    MappingProxyType(
        {
            "floor": _floor,
            "next": _next,
            "standings": _standings,
            "raised": _raised,
            "programme": _programme,
            "thanks": _thanks,
        }
    )
)
