"""The work and the standards of the event: what athletes read and judges are briefed from."""

import functools
from collections.abc import Iterable, Mapping
from typing import NamedTuple

import msgspec
from msgspec.structs import replace

from callroom.model import (
    Division,
    Event,
    NotFound,
    Part,
    PublishedHeight,
    PublishedLoad,
    State,
    Task,
    Workout,
)
from callroom.model.movement import Movement, NoRep, Point, Variation
from callroom.model.permitted import division_switches, switches
from callroom.model.steps import doers
from callroom.standards import Library, Pose, library_with, movement_svgs
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import Audience, WorkoutTitle, workout_title
from callroom.views.work import PartWork, WorkRow, part_work


class SettingCell(msgspec.Struct, frozen=True, kw_only=True):
    """What is set of a task for one division; all empty: nothing.

    `variations` are those allowed (True) or barred for this division otherwise than for another.
    """

    loads: tuple[PublishedLoad, ...]
    heights: tuple[PublishedHeight, ...]
    variations: tuple[tuple[str, bool], ...] = ()


class SettingRow(msgspec.Struct, frozen=True, kw_only=True):
    """A task and what is set for it, a cell for each of the guide's divisions."""

    task: Task
    cells: tuple[SettingCell, ...]


class Scheme(msgspec.Struct, frozen=True, kw_only=True):
    """The work as some divisions do it alike; its loads and heights stand in the setting rows."""

    divisions: tuple[str, ...]
    work: PartWork


class GuidePart(msgspec.Struct, frozen=True, kw_only=True):
    """A scored part: how much there is to do, and with what."""

    part: Part
    schemes: tuple[Scheme, ...]
    settings: tuple[SettingRow, ...]


class Use(msgspec.Struct, frozen=True, kw_only=True):
    """A task that asks for a movement: where, in which unit, and what it asks beyond.

    `divisions` are the names of those of whom it asks it so.
    """

    workout: WorkoutTitle
    task: Task
    divisions: tuple[str, ...]


class Standard(msgspec.Struct, frozen=True, kw_only=True):
    """A movement as this event asks for it.

    Attributes
    ----------
    asked
        The ids of the variations that are allowed where usually they are barred.
    divisions
        The names of the divisions it is meant for; empty: all that do it.
    allowed
        The ids of all variations that may be used.
    points, no_reps
        Those in force.
    svgs
        The figures drawn, in the order of ``movement.figures``.
    uses
        The tasks that ask for it, of workouts this audience may see.
    """

    movement: Movement
    asked: tuple[str, ...]
    divisions: tuple[str, ...]
    allowed: frozenset[str]
    points: tuple[Point, ...]
    no_reps: tuple[NoRep, ...]
    svgs: tuple[str, ...]
    uses: tuple[Use, ...] = ()

    @property
    def chosen(self) -> tuple[Variation, ...]:
        """The variations that tell it from the usual standard."""
        return tuple(one for one in self.movement.variations if one.id in self.asked)


class GuideWorkout(msgspec.Struct, frozen=True, kw_only=True):
    """A workout; everything but its title is empty while it is not released.

    `standards` says which of the guide's standards it needs, in the order of its tasks;
    `unwritten` names its movements of which the library has no standard.
    """

    title: WorkoutTitle
    text: str = ""
    floor: str = ""
    judges_per_lane: int = 1
    parts: tuple[GuidePart, ...] = ()
    standards: tuple[int, ...] = ()
    unwritten: tuple[str, ...] = ()


class Guide(msgspec.Struct, frozen=True, kw_only=True):
    """All workouts in the event's order, and every standard once, in the order of first need."""

    head: PageHead
    divisions: tuple[str, ...]
    workouts: tuple[GuideWorkout, ...]
    standards: tuple[Standard, ...]

    def workout(self, workout_id: str) -> GuideWorkout:
        """Return a workout by id; NotFound if there is none."""
        for one in self.workouts:
            if one.title.id == workout_id:
                return one
        raise NotFound("workout.unknown", workout=workout_id)

    def standards_of(self, workout: GuideWorkout) -> tuple[Standard, ...]:
        """Return the standards one workout needs."""
        return tuple(self.standards[index] for index in workout.standards)


def guide(state: State, audience: Audience, library: Library | None = None) -> Guide:
    """Return what `audience` may know of the work and its standards.

    Parameters
    ----------
    library
        The movements and poses; by default those of the event.

    Raises
    ------
    NotFound
        Without an event.
    """
    event = state.event
    if event is None:
        raise NotFound("book.no_event")
    library = library_with(event.movements) if library is None else library
    seen = tuple(workout for workout in event.workouts if audience.may_see(workout))
    uses = _uses(event, seen, audience, library)
    written = {key: found for key, found in uses.items() if key.movement in library.movements}
    order = {key: index for index, key in enumerate(written)}
    return Guide(
        head=page_head(state),
        divisions=tuple(division.name for division in event.divisions),
        workouts=tuple(
            _workout(event, workout, audience, order, library)
            if audience.may_see(workout)
            else GuideWorkout(title=workout_title(event, workout, audience))
            for workout in event.workouts
        ),
        standards=tuple(_standard_of(key, written, library) for key in written),
    )


def standard(
    movement: Movement,
    library: Library,
    switched: Mapping[str, bool] | None = None,
    *,
    uses: tuple[Use, ...] = (),
    divisions: tuple[str, ...] = (),
) -> Standard:
    """Return a movement's standard with the variations `switched` allowed or barred."""
    said = dict(switched or {})
    allowed = movement.allowed(said)
    return Standard(
        movement=movement,
        asked=tuple(one.id for one in movement.variations if said.get(one.id)),
        divisions=divisions,
        allowed=allowed,
        points=movement.points_for(allowed),
        no_reps=movement.no_reps_for(allowed),
        svgs=_drawn(movement, tuple(library.poses[figure.pose] for figure in movement.figures)),
        uses=uses,
    )


@functools.lru_cache(maxsize=256)
def _drawn(movement: Movement, poses: tuple[Pose, ...]) -> tuple[str, ...]:
    """Draw a movement once: a hall full of phones asks for the same figures."""
    return movement_svgs(movement, {pose.id: pose for pose in poses}, marked=True)


class Key(NamedTuple):
    """A movement as some division is asked for it: the variations not as usual."""

    movement: str
    switched: tuple[tuple[str, bool], ...]


Uses = dict[Key, dict[tuple[str, str], Use]]


def _standard_of(key: Key, written: Uses, library: Library) -> Standard:
    uses = tuple(written[key].values())
    # Only where the event has the movement in more than one way is it said for whom each is.
    several = sum(other.movement == key.movement for other in written) > 1
    for_whom = dict.fromkeys(name for use in uses for name in use.divisions) if several else {}
    return standard(
        library.movements[key.movement],
        library,
        dict(key.switched),
        uses=uses,
        divisions=tuple(for_whom),
    )


def _uses(event: Event, workouts: Iterable[Workout], audience: Audience, library: Library) -> Uses:
    """Return who asks for each movement and how, in the order of first need."""
    found: Uses = {}
    for workout in workouts:
        title = workout_title(event, workout, audience)
        for task in _tasks(workout):
            for division in event.divisions:
                for key in _needs(task, division, library):
                    at = found.setdefault(key, {})
                    before = at.get((workout.id, task.id))
                    named = (*before.divisions, division.name) if before else (division.name,)
                    at[workout.id, task.id] = Use(workout=title, task=task, divisions=named)
    return found


def _tasks(workout: Workout) -> list[Task]:
    return [task for part in workout.parts for block in part.blocks for task in block.tasks]


def _needs(task: Task, division: Division, library: Library) -> list[Key]:
    """Return the movements of a task: its own, and the one a partner holds meanwhile."""
    if not doers(task, division):
        return []
    own = Key(task.movement, _unusual(task.movement, switches(task, division), library))
    if not task.while_holding:
        return [own]
    held = division_switches(task.while_holding, division)
    return [own, Key(task.while_holding, _unusual(task.while_holding, held, library))]


def _unusual(
    movement_id: str, said: Mapping[str, bool], library: Library
) -> tuple[tuple[str, bool], ...]:
    known = library.movements.get(movement_id)
    usual = known.allowed() if known is not None else frozenset()
    return tuple(sorted((name, yes) for name, yes in said.items() if yes != (name in usual)))


def _workout(
    event: Event,
    workout: Workout,
    audience: Audience,
    order: Mapping[Key, int],
    library: Library,
) -> GuideWorkout:
    needs = [
        key
        for task in _tasks(workout)
        for division in event.divisions
        for key in _needs(task, division, library)
    ]
    return GuideWorkout(
        title=workout_title(event, workout, audience),
        text=workout.text,
        floor=event.floor(workout.floor).name,
        judges_per_lane=workout.judges_per_lane,
        parts=tuple(_part(event, part) for part in workout.parts),
        standards=tuple(dict.fromkeys(order[key] for key in needs if key in order)),
        unwritten=tuple(dict.fromkeys(key.movement for key in needs if key not in order)),
    )


def _part(event: Event, part: Part) -> GuidePart:
    works = [(division, part_work(part, division)) for division in event.divisions]
    differing = _differing(work for _, work in works)
    alike: dict[PartWork, list[Division]] = {}
    for division, work in works:
        alike.setdefault(_bare(work, differing), []).append(division)
    return GuidePart(
        part=part,
        schemes=tuple(
            Scheme(divisions=tuple(division.name for division in divisions), work=work)
            for work, divisions in alike.items()
        ),
        settings=_settings(part, [work for _, work in works], differing),
    )


def _differing(works: Iterable[PartWork]) -> frozenset[str]:
    """Return the tasks that divisions do with different variations."""
    said: dict[str, set[frozenset[tuple[str, bool]]]] = {}
    for work in works:
        for block in work.blocks:
            for row in block.rows:
                said.setdefault(row.task.id, set()).add(frozenset(row.variations))
    return frozenset(name for name, ways in said.items() if len(ways) > 1)


def _bare(work: PartWork, differing: frozenset[str]) -> PartWork:
    """Return the work without what stands in the setting rows, which alone may differ."""
    return replace(
        work,
        blocks=tuple(
            replace(block, rows=tuple(_bare_row(row, differing) for row in block.rows))
            for block in work.blocks
        ),
    )


def _bare_row(row: WorkRow, differing: frozenset[str]) -> WorkRow:
    kept = () if row.task.id in differing else row.variations
    return replace(row, loads=(), heights=(), variations=kept)


def _settings(
    part: Part, works: list[PartWork], differing: frozenset[str]
) -> tuple[SettingRow, ...]:
    cells: dict[str, list[SettingCell]] = {}
    tasks = {task.id: task for block in part.blocks for task in block.tasks}
    for work in works:
        rows = {row.task.id: row for block in work.blocks for row in block.rows}
        for name in tasks:
            row = rows.get(name)
            cell = SettingCell(
                loads=row.loads if row is not None else (),
                heights=row.heights if row is not None else (),
                variations=row.variations if row is not None and name in differing else (),
            )
            cells.setdefault(name, []).append(cell)
    return tuple(
        SettingRow(task=tasks[name], cells=tuple(listed))
        for name, listed in cells.items()
        if any(cell.loads or cell.heights or cell.variations for cell in listed)
    )
