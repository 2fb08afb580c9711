"""An event's wishes and its heats, turned into the question the solver is asked."""

from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise

from callroom.model.event import Event
from callroom.model.workout import Workout
from callroom.planner.compose import HeatTeams
from callroom.planner.problem import Break, Changeover, Either, Link, Problem, Slot

Heats = Sequence[HeatTeams]


def pose(event: Event, heats: Heats) -> Problem:
    """Return the timetable question of a day.

    Every wish becomes a rule here; whether the answer keeps the wishes is judged elsewhere
    (``check``), from the event and not from this.
    """
    wishes = event.wishes
    workouts = {workout.id: workout for workout in event.workouts}
    by_workout: dict[str, list[HeatTeams]] = {workout.id: [] for workout in event.workouts}
    for heat in heats:
        by_workout[heat.workout].append(heat)
    blocks = wishes.constant_rhythm
    listed = wishes.workout_order == "listed"
    # In a listed order each workout holds back the next, and so all that follow.
    pairs = pairwise(event.workouts) if listed else combinations(event.workouts, 2)
    between = [(by_workout[one.id], by_workout[other.id]) for one, other in pairs]
    kept = [links for one, other in between for links in _between(event, one, other)]
    return Problem(
        floors=tuple(floor.id for floor in event.floors),
        slots=tuple(_slot(workouts[heat.workout], heat) for heat in heats),
        links=(
            *(link for mine in by_workout.values() for link in _mixed_first(mine)),
            *(forth for forth, _ in kept if listed),
        ),
        eithers=() if listed else tuple(Either(one=forth, other=back) for forth, back in kept),
        waits=tuple(_waits(event, by_workout)) if listed else (),
        breaks=tuple(
            Break(
                id=pause.id,
                start_s=pause.start_s,
                end_s=pause.start_s + pause.length_s,
                floors=pause.floors,
            )
            for pause in wishes.pauses
        ),
        changeover=Changeover(
            same_s=wishes.changeover_same_s,
            division_s=wishes.changeover_division_s,
            workout_s=wishes.changeover_workout_s,
        ),
        opens_s=wishes.first_heat_s,
        closes_s=wishes.finish_by_s,
        grid_s=wishes.slot_s,
        rhythm=wishes.constant_rhythm,
        shape="blocks" if blocks else "heats",
        judges_limit=wishes.judges_at_once,
    )


def _slot(workout: Workout, heat: HeatTeams) -> Slot:
    return Slot(
        id=heat.id,
        workout=workout.id,
        block="+".join(heat.divisions),
        rank=heat.rank,
        floors=(workout.floor,),
        length_s=workout.floor_s,
        judges=workout.judges_per_lane * len(heat.teams),
    )


def _mixed_first(heats: Heats) -> Iterator[Link]:
    """A mixed heat holds its divisions' last ranks, so their own heats come after it."""
    for mixed in heats:
        for pure in heats:
            first = pure.rank == 1 and len(pure.divisions) == 1
            if len(mixed.divisions) > 1 and first and pure.divisions[0] in mixed.divisions:
                yield Link(before=mixed.id, after=pure.id)


def _between(event: Event, one: Heats, other: Heats) -> Iterator[tuple[Link, Link]]:
    """Yield, both ways round, the links between two workouts' heats that may share a team."""
    rest_s = event.wishes.rest_s
    if event.wishes.order == "reseeded":
        for block, later in _division_blocks(one, other):
            yield (
                Link(before=block[-1].id, after=later[0].id, lag_s=rest_s),
                Link(before=later[-1].id, after=block[0].id, lag_s=rest_s),
            )
        return
    reach = 1 if event.wishes.order == "neighbours" else 0
    for heat in one:
        for then in _near(heat, other, reach):
            yield (
                Link(before=heat.id, after=then.id, lag_s=rest_s),
                Link(before=then.id, after=heat.id, lag_s=rest_s),
            )


def _division_blocks(one: Heats, other: Heats) -> Iterator[tuple[Heats, Heats]]:
    """Yield the two workouts' heats block by block, wherever a division is in both."""
    for first in _blocks(one):
        for then in _blocks(other):
            if set(first[0].divisions) & set(then[0].divisions):
                yield first, then


def _blocks(heats: Heats) -> list[list[HeatTeams]]:
    found: dict[tuple[str, ...], list[HeatTeams]] = {}
    for heat in heats:
        found.setdefault(heat.divisions, []).append(heat)
    return [sorted(block, key=lambda heat: heat.rank) for block in found.values()]


def _near(heat: HeatTeams, others: Heats, reach: int) -> list[HeatTeams]:
    """Return the heats that hold a team of `heat`, or come within `reach` of one that does."""
    near: dict[str, HeatTeams] = {}
    for division in heat.divisions:
        row = sorted(
            (other for other in others if division in other.divisions),
            key=lambda other: (-len(other.divisions), other.rank),
        )
        for place, other in enumerate(row):
            if set(heat.teams) & set(other.teams):
                near |= {one.id: one for one in row[max(0, place - reach) : place + reach + 1]}
    return list(near.values())


def _waits(event: Event, by_workout: dict[str, list[HeatTeams]]) -> Iterator[tuple[str, str]]:
    """Yield the heats between which teams wait: of one workout and the next in the list."""
    for one, other in pairwise(event.workouts):
        if event.wishes.order == "reseeded":
            for block, later in _division_blocks(by_workout[one.id], by_workout[other.id]):
                yield block[0].id, later[-1].id
        else:
            for heat in by_workout[one.id]:
                for then in _near(heat, by_workout[other.id], 0):
                    yield heat.id, then.id
