"""What is on every bar of a planned day, what is short, and what changes between heats."""

import functools
import threading

import msgspec
from msgspec.structs import replace

from callroom.model import Event, Finding, KitItem, Mass, Plan, Refusal, State, Team
from callroom.model.plates import Loading
from callroom.planner.plates import (
    Changeover,
    bar_days,
    changeovers,
    hurried,
    kit_findings,
    loadings_of,
    longer_changeovers,
    make_loadings,
    plate_findings,
)
from callroom.standards import library_with
from callroom.views.kit_day import BarsOfFloor

PEOPLE = 4
LEAST_PEOPLE, MOST_PEOPLE = 2, 40
# One at a time: the same day is asked for by several pages, and takes a second or more.
_RUNNING = threading.Lock()


class FloorBars(msgspec.Struct, frozen=True, kw_only=True):
    """The bars of one floor: what is on them, heat after heat, and what changes between.

    `moves` are the plates put on or taken off all day; no loading takes fewer than
    `least_moves` (0: not known, because a load is not reached).
    """

    floor: str
    loadings: tuple[Loading, ...]
    changeovers: tuple[Changeover, ...]
    moves: int
    least_moves: int


class KitDay(msgspec.Struct, frozen=True, kw_only=True):
    """The kit of a planned day with so many `people` who change plates.

    `short` is what is missing, `hurried` the changeovers that do not fit into their time.
    """

    people: int
    floors: tuple[FloorBars, ...]
    short: tuple[Finding, ...]
    hurried: tuple[Finding, ...]


class _Asked(msgspec.Struct, frozen=True):
    event: Event
    teams: tuple[Team, ...]
    plan: Plan
    kit: tuple[KitItem, ...]
    people: int


def kit_day(state: State, plan: Plan | None = None, people: int = PEOPLE) -> KitDay:
    """Return the kit of the day as planned, or of another `plan`.

    It takes a second or two, so a face runs it in a thread; the last few answers are kept.

    Raises
    ------
    Refusal
        Without an event, or a plan.
    """
    asked = _asked(state, plan, people)
    with _RUNNING:
        return _made(msgspec.msgpack.encode(asked))


def with_longer_changeovers(state: State, people: int = PEOPLE) -> Event:
    """Return the event with changeovers long enough for the bars of the plan in force."""
    asked = _asked(state, None, people)
    sheets = [sheet for floor in kit_day(state, None, people).floors for sheet in floor.changeovers]
    wishes = longer_changeovers(asked.event, asked.teams, asked.plan, sheets)
    return replace(asked.event, wishes=wishes)


def _asked(state: State, plan: Plan | None, people: int) -> _Asked:
    plan = plan or state.plan
    if state.event is None:
        raise Refusal("book.no_event")
    if plan is None:
        raise Refusal("plan.none")
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    people = min(max(people, LEAST_PEOPLE), MOST_PEOPLE)
    return _Asked(state.event, teams, plan, state.kit, people)


@functools.lru_cache(maxsize=8)
def _made(encoded: bytes) -> KitDay:
    asked = msgspec.msgpack.decode(encoded, type=_Asked)
    movements = library_with(asked.event.movements).movements
    days = bar_days(
        asked.event,
        asked.teams,
        asked.plan,
        asked.kit,
        movements=movements,
        bars=_bars(asked.kit),
    )
    floors: list[FloorBars] = []
    short: list[Finding] = []
    late: list[Finding] = []
    for day in days:
        loadings = make_loadings(day.problem)
        sheets = changeovers(day, loadings, asked.plan, people=asked.people)
        floors.append(
            FloorBars(
                floor=day.floor,
                loadings=loadings_of(day, loadings),
                changeovers=sheets,
                moves=loadings.moves,
                least_moves=loadings.least_moves,
            )
        )
        short += plate_findings(day, loadings)
        late += hurried(sheets, people=asked.people)
    short += kit_findings(asked.event, asked.teams, asked.plan, asked.kit, movements)
    return KitDay(
        people=asked.people, floors=tuple(floors), short=tuple(short), hurried=tuple(late)
    )


def _bars(kit: tuple[KitItem, ...]) -> dict[str, Mass]:
    """Return the bar of each category that has one of its own."""
    return {
        item.category: item.mass
        for item in kit
        if item.kind == "bar" and item.category and item.mass is not None
    }


def bars_of(day: KitDay) -> tuple[BarsOfFloor, ...]:
    """Return the bars of a day as their view takes them."""
    return tuple(
        BarsOfFloor(
            floor=one.floor,
            loadings=one.loadings,
            changeovers=one.changeovers,
            moves=one.moves,
            least_moves=one.least_moves,
        )
        for one in day.floors
    )
