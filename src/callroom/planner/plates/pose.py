"""From a planned day to the bars that are wanted: where, when, and how heavy."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from callroom.model.division import Division
from callroom.model.event import Event
from callroom.model.kit import KitItem
from callroom.model.mass import Mass, PublishedLoad
from callroom.model.movement import Movement
from callroom.model.plan import Heat, Plan
from callroom.model.steps import doers, loads_for, tasks_of
from callroom.model.team import Team
from callroom.model.workout import Task, Workout
from callroom.planner.plates.problem import PlateProblem, Stock, Want, stock_of

BARBELL = "barbell"


class Spot(NamedTuple):
    """A bar of a lane: the lane, and whose it is (a category; empty: everybody's)."""

    lane: int
    station: str

    @property
    def category(self) -> str:
        """Whose bar it is, without its number where there are several."""
        return self.station.rstrip(" 0123456789")


class Moment(NamedTuple):
    """A step of the day: a heat, and which load of it (1: the first)."""

    heat: str
    rung: int


class BarDay(NamedTuple):
    """The bars of one floor through the day, and what its places and steps stand for."""

    floor: str
    problem: PlateProblem
    spots: tuple[Spot, ...]
    moments: tuple[Moment, ...]


def bar_days(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    kit: Iterable[KitItem],
    *,
    movements: Mapping[str, Movement],
    bars: Mapping[str, Mass] | None = None,
    collars_count: bool = False,
) -> tuple[BarDay, ...]:
    """Return the plate question of every floor on which bars are lifted.

    Kit that stands on a floor is used there; what can be moved goes to the floor that wants
    the most loads. Each load of a lane's tasks is a rung: where a heat goes from one load to
    another, the plates are changed in it. A lift whose load the athletes choose wants an
    empty bar.

    Parameters
    ----------
    event, teams, plan
        The planned day; a lane whose team has left wants nothing.
    kit, movements
        What there is, and the movements by id, which say what needs a bar.
    bars
        The bar that a category lifts with, by its id; a category left out takes any.
    collars_count
        Whether collars with a mass count as load.
    """
    known = {team.id: team for team in teams}
    items = tuple(kit)
    floors = {
        floor.id: [
            (heat, dict(_lanes(event, heat, known, movements)))
            for heat in sorted(plan.heats, key=lambda heat: (heat.start_s, heat.id))
            if heat.floor == floor.id
        ]
        for floor in event.floors
    }
    wanting = {
        name: sum(len(lanes) for _, lanes in heats)
        for name, heats in floors.items()
        if any(lanes for _, lanes in heats)
    }
    busiest = max(wanting, key=lambda name: wanting[name], default="")
    return tuple(
        _day(
            name,
            floors[name],
            _stock(items, name, movable=name == busiest, collars_count=collars_count),
            bars or {},
        )
        for name in wanting
    )


def _stock(items: tuple[KitItem, ...], floor: str, *, movable: bool, collars_count: bool) -> Stock:
    usable = [item for item in items if item.floor == floor or (movable and not item.floor)]
    return stock_of(usable, collars_count=collars_count)


def _day(
    floor: str,
    heats: list[tuple[Heat, dict[Spot, list[tuple[Mass, ...]]]]],
    stock: Stock,
    bars: Mapping[str, Mass],
) -> BarDay:
    spots = tuple(sorted({spot for _, lanes in heats for spot in lanes}))
    moments: list[Moment] = []
    wants: list[Want] = []
    for heat, lanes in heats:
        for rung in range(max((len(rungs) for rungs in lanes.values()), default=0)):
            for spot, rungs in lanes.items():
                # A bar that has come to its last load stays as it is.
                loads = rungs[min(rung, len(rungs) - 1)]
                wants.append(
                    Want(
                        place=place_name(spot),
                        step=len(moments),
                        loads=loads,
                        bar=bars.get(spot.category),
                    )
                )
            moments.append(Moment(heat.id, rung + 1))
    problem = PlateProblem(
        places=tuple(place_name(spot) for spot in spots),
        steps=len(moments),
        wants=tuple(wants),
        stock=stock,
    )
    return BarDay(floor, problem, spots, tuple(moments))


def place_name(spot: Spot) -> str:
    """Return the name of a bar's place in the question: ``"3"``, ``"3 women"``."""
    return f"{spot.lane} {spot.station}".strip()


def _lanes(
    event: Event, heat: Heat, teams: Mapping[str, Team], movements: Mapping[str, Movement]
) -> Iterator[tuple[Spot, list[tuple[Mass, ...]]]]:
    workout = event.workout(heat.workout)
    for place in heat.lanes:
        if place.team in teams:
            division = event.division(teams[place.team].division)
            for station, rungs in bars_of(workout, division, movements).items():
                yield Spot(place.lane, station), rungs


def bars_of(
    workout: Workout, division: Division, movements: Mapping[str, Movement]
) -> dict[str, list[tuple[Mass, ...]]]:
    """Return the bars a lane needs, by station, each with its loads in the order they come."""
    bars: dict[str, list[tuple[Mass, ...]]] = {}
    for part in workout.parts:
        for block in part.blocks:
            for task in tasks_of(block, division):
                if needs_bar(task, movements):
                    for station, loads in _bars_of_task(task, division):
                        rungs = bars.setdefault(station, [])
                        if not rungs or rungs[-1] != loads:
                            rungs.append(loads)
    return bars


def needs_bar(task: Task, movements: Mapping[str, Movement]) -> bool:
    """Return whether a task is done with a bar."""
    movement = movements.get(task.movement)
    return movement is not None and any(need.item == BARBELL for need in movement.kit)


def _bars_of_task(task: Task, division: Division) -> Iterator[tuple[str, tuple[Mass, ...]]]:
    for category, count, loads in implements(task, division):
        for number in range(1, count + 1):
            yield (category if count == 1 else f"{category} {number}".strip()), loads


def implements(task: Task, division: Division) -> Iterator[tuple[str, int, tuple[Mass, ...]]]:
    """Yield what a lane needs for a task: category, how many at once, and the loads in force.

    A lane of several categories needs an implement for each load; of one load as many as
    work at a time, and never more than there are athletes for it.
    """
    at_once = min(task.working, doers(task, division))
    published = loads_for(task, division)
    if not published:
        category = task.who.category if task.who.kind == "category" else ""
        yield category, at_once, ()
        return
    sizes = {part.category: part.count for part in division.make_up}
    for load in published:
        if task.who.kind == "category" and load.category not in {"", task.who.category}:
            continue
        size = sizes.get(load.category, 0) if load.category else division.team_size
        if size:
            yield load.category, min(at_once, size), masses(load)


def masses(load: PublishedLoad) -> tuple[Mass, ...]:
    """Return a published load in each unit it is published in."""
    found = []
    if load.kg is not None:
        found.append(Mass(amount=load.kg, unit="kg"))
    if load.lb is not None:
        found.append(Mass(amount=load.lb, unit="lb"))
    return tuple(found)
