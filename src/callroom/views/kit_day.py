"""The bars of a day as the kit crew reads them: a sheet for each lane, and each changeover."""

from collections.abc import Iterable, Mapping
from gettext import NullTranslations
from typing import NamedTuple

import msgspec

from callroom.model import Event, Heat, Mass, State
from callroom.model.plates import Loading
from callroom.planner.plates import Change, Changeover
from callroom.views.masthead import Masthead, masthead, published
from callroom.views.timetable import CREW, WorkoutTitle, workout_title
from callroom.views.wording import ENGLISH, decimal, mass


class BarRow(msgspec.Struct, frozen=True, kw_only=True):
    """One bar of a lane in a heat, and what is done to it before.

    `category` is whose bar it is (empty: everybody's), `wanted` the load as published in each
    unit (none: an empty bar). `early`: nobody lifts it in this heat; it is made ready for a later
    one. `off` and `on` are of one side, in the order they are done; both
    sides are alike. `rung` counts the loads within a heat.
    """

    workout: WorkoutTitle
    number: int
    start_s: int
    rung: int
    lane: int
    category: str
    early: bool
    wanted: tuple[Mass, ...]
    bar: Mass | None
    sleeve: tuple[Mass, ...]
    off: tuple[Mass, ...]
    on: tuple[Mass, ...]
    moves: int
    takes_s: int


class LaneSheet(msgspec.Struct, frozen=True, kw_only=True):
    """One lane's day: its bars in order of time."""

    floor: str
    lane: int
    rows: tuple[BarRow, ...]


class Break(msgspec.Struct, frozen=True, kw_only=True):
    """A changeover of a whole floor before a heat, or (`rung` above 1) within it.

    `given_s` is how long the floor is free [s] (None: nothing came before, or the athletes do
    it themselves), `takes_s` how long it takes the people there are, `least_people` how many
    would be done in time (None: no number).
    """

    workout: WorkoutTitle
    number: int
    rung: int
    start_s: int
    given_s: int | None
    takes_s: int
    least_people: int | None
    rows: tuple[BarRow, ...]

    @property
    def fits(self) -> bool:
        """Whether it is done before the heat walks on."""
        return self.given_s is None or self.takes_s <= self.given_s


class FloorKit(msgspec.Struct, frozen=True, kw_only=True):
    """The bars of one floor: changeovers in order of time, and a sheet for each lane."""

    floor: str
    changeovers: tuple[Break, ...]
    lanes: tuple[LaneSheet, ...]
    moves: int
    least_moves: int


class KitSheets(msgspec.Struct, frozen=True, kw_only=True):
    """The bars of all floors, under the plan's revision."""

    masthead: Masthead
    floors: tuple[FloorKit, ...]


class BarsOfFloor(msgspec.Struct, frozen=True, kw_only=True):
    """What is on the bars of a floor, and what changes: as the planner gives it."""

    floor: str
    loadings: tuple[Loading, ...]
    changeovers: tuple[Changeover, ...]
    moves: int = 0
    least_moves: int = 0


def kit_sheets(state: State, floors: Iterable[BarsOfFloor]) -> KitSheets:
    """Return the bars of a day as shown.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    event, plan = published(state)
    heats = {heat.id: heat for heat in plan.heats}
    return KitSheets(
        masthead=masthead(state), floors=tuple(_floor(event, heats, one) for one in floors)
    )


def _floor(event: Event, heats: Mapping[str, Heat], bars: BarsOfFloor) -> FloorKit:
    changes = {
        (sheet.heat, sheet.rung, change.lane, change.station): change
        for sheet in bars.changeovers
        for change in sheet.changes
    }
    wanted = {(one.heat, one.rung, one.lane, one.station): one for one in bars.loadings}
    stands = _stands(bars)
    keys = dict.fromkeys((*wanted, *changes))
    rows = [
        _row(
            event, heats[key[0]], key, _Bar(wanted.get(key), changes.get(key), stands.get(key, ()))
        )
        for key in sorted(keys, key=lambda key: (heats[key[0]].start_s, *key[1:]))
    ]
    at: dict[tuple[str, int, int], list[BarRow]] = {}
    for row in rows:
        at.setdefault((row.workout.id, row.number, row.rung), []).append(row)
    name = event.floor(bars.floor).name
    return FloorKit(
        floor=name,
        changeovers=tuple(
            _break(event, heats[sheet.heat], sheet, at) for sheet in bars.changeovers
        ),
        lanes=tuple(
            LaneSheet(floor=name, lane=lane, rows=tuple(row for row in rows if row.lane == lane))
            for lane in sorted({row.lane for row in rows})
        ),
        moves=bars.moves,
        least_moves=bars.least_moves,
    )


_Key = tuple[str, int, int, str]
"""A heat, the load within it, a lane, and which of its bars."""


def _stands(bars: BarsOfFloor) -> dict[_Key, tuple[Mass, ...]]:
    """Return what is on one side of each bar after each change, also where it is for later."""
    now: dict[tuple[int, str], tuple[Mass, ...]] = {}
    found: dict[_Key, tuple[Mass, ...]] = {}
    for sheet in bars.changeovers:
        for change in sheet.changes:
            place = change.lane, change.station
            before = now.get(place, ())
            now[place] = (*before[: len(before) - len(change.off)], *change.on)
            found[(sheet.heat, sheet.rung, *place)] = now[place]
    return found


class _Bar(NamedTuple):
    """What is known of a bar in a heat: its load, its change, and what is on it for later."""

    loading: Loading | None
    change: Change | None
    stands: tuple[Mass, ...]


def _row(event: Event, heat: Heat, key: _Key, known: _Bar) -> BarRow:
    loading, change = known.loading, known.change
    names = {category.id: category.name for category in event.categories}
    _, rung, lane, station = key
    whose, _, number = station.partition(" ")
    bar = change.bar if change is not None else None
    return BarRow(
        workout=workout_title(event, event.workout(heat.workout), CREW),
        number=heat.number,
        start_s=heat.start_s,
        rung=rung,
        lane=lane,
        category=f"{names.get(whose, whose)} {number}".strip(),
        early=loading is None,
        wanted=loading.wanted if loading is not None else (),
        bar=loading.bar if loading is not None else bar,
        sleeve=loading.sleeve if loading is not None else known.stands,
        off=change.off if change is not None else (),
        on=change.on if change is not None else (),
        moves=change.moves if change is not None else 0,
        takes_s=change.takes_s if change is not None else 0,
    )


def _break(
    event: Event,
    heat: Heat,
    sheet: Changeover,
    rows: Mapping[tuple[str, int, int], list[BarRow]],
) -> Break:
    mine = rows.get((heat.workout, heat.number, sheet.rung), [])
    return Break(
        workout=workout_title(event, event.workout(heat.workout), CREW),
        number=heat.number,
        rung=sheet.rung,
        start_s=heat.start_s,
        given_s=sheet.given_s,
        takes_s=sheet.takes_s,
        least_people=sheet.least_people,
        rows=tuple(row for row in mine if row.moves),
    )


def plates_text(plates: Iterable[Mass], words: NullTranslations = ENGLISH) -> str:
    """Return the plates of one side: ``"20 + 10 kg"``; a dash for none."""
    listed = list(plates)
    if not listed:
        return "–"
    units = {one.unit for one in listed}
    if len(units) > 1:
        return " + ".join(mass(one, words) for one in listed)
    return f"{' + '.join(decimal(one.amount, words) for one in listed)} {units.pop()}"


def load_text(wanted: Iterable[Mass], words: NullTranslations = ENGLISH) -> str:
    """Return a load as published, ``"43 kg / 95 lb"``; empty for an empty bar."""
    return " / ".join(mass(one, words) for one in wanted)
