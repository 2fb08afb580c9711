"""The work and the standards of the event: what athletes read and judges are briefed from."""

import functools
from collections.abc import Iterable

import msgspec

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
from callroom.standards import Library, Pose, built_in, movement_svgs
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import Audience, WorkoutTitle, workout_title
from callroom.views.work import PartWork, part_work


class SettingCell(msgspec.Struct, frozen=True, kw_only=True):
    """The loads and heights of a task for one division; both empty: it sets none."""

    loads: tuple[PublishedLoad, ...]
    heights: tuple[PublishedHeight, ...]


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
    """A task that asks for a movement: where, in which unit, and what it asks beyond."""

    workout: WorkoutTitle
    task: Task


class Standard(msgspec.Struct, frozen=True, kw_only=True):
    """A movement as this event asks for it.

    Attributes
    ----------
    variation
        The variation that its tasks name; empty: as usual.
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
    variation: str
    allowed: frozenset[str]
    points: tuple[Point, ...]
    no_reps: tuple[NoRep, ...]
    svgs: tuple[str, ...]
    uses: tuple[Use, ...] = ()

    @property
    def chosen(self) -> Variation | None:
        """The variation that is asked for, if the movement has it."""
        return next((one for one in self.movement.variations if one.id == self.variation), None)


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
        The movements and poses; those that come with Callroom by default.

    Raises
    ------
    NotFound
        Without an event.
    """
    event = state.event
    if event is None:
        raise NotFound("book.no_event")
    library = built_in() if library is None else library
    seen = tuple(workout for workout in event.workouts if audience.may_see(workout))
    uses = _uses(event, seen, audience)
    written = {key: found for key, found in uses.items() if key[0] in library.movements}
    order = {key: index for index, key in enumerate(written)}
    return Guide(
        head=page_head(state),
        divisions=tuple(division.name for division in event.divisions),
        workouts=tuple(
            _workout(event, workout, audience, order)
            if audience.may_see(workout)
            else GuideWorkout(title=workout_title(event, workout, audience))
            for workout in event.workouts
        ),
        standards=tuple(
            standard(library.movements[name], library, variation, tuple(found))
            for (name, variation), found in written.items()
        ),
    )


def standard(
    movement: Movement, library: Library, variation: str = "", uses: tuple[Use, ...] = ()
) -> Standard:
    """Return a movement's standard where `variation` is asked for, or as usual."""
    allowed = movement.allowed({variation: True} if variation else None)
    return Standard(
        movement=movement,
        variation=variation,
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


Key = tuple[str, str]


def _uses(event: Event, workouts: Iterable[Workout], audience: Audience) -> dict[Key, list[Use]]:
    """Return who asks for each movement and variation, in the order of first need."""
    found: dict[Key, list[Use]] = {}
    for workout in workouts:
        title = workout_title(event, workout, audience)
        for task in _tasks(workout):
            for key in _needs(task):
                found.setdefault(key, []).append(Use(workout=title, task=task))
    return found


def _tasks(workout: Workout) -> list[Task]:
    return [task for part in workout.parts for block in part.blocks for task in block.tasks]


def _needs(task: Task) -> list[Key]:
    """Return the movements of a task: its own, and the one a partner holds meanwhile."""
    own = [(task.movement, task.variation)]
    return [*own, (task.while_holding, "")] if task.while_holding else own


def _workout(
    event: Event, workout: Workout, audience: Audience, order: dict[Key, int]
) -> GuideWorkout:
    needs = [key for task in _tasks(workout) for key in _needs(task)]
    return GuideWorkout(
        title=workout_title(event, workout, audience),
        text=workout.text,
        floor=event.floor(workout.floor).name,
        judges_per_lane=workout.judges_per_lane,
        parts=tuple(_part(event, part) for part in workout.parts),
        standards=tuple(dict.fromkeys(order[key] for key in needs if key in order)),
        unwritten=tuple(dict.fromkeys(key[0] for key in needs if key not in order)),
    )


def _part(event: Event, part: Part) -> GuidePart:
    works = [(division, part_work(part, division)) for division in event.divisions]
    alike: dict[PartWork, list[Division]] = {}
    for division, work in works:
        alike.setdefault(_bare(work), []).append(division)
    return GuidePart(
        part=part,
        schemes=tuple(
            Scheme(divisions=tuple(division.name for division in divisions), work=work)
            for work, divisions in alike.items()
        ),
        settings=_settings(part, [work for _, work in works]),
    )


def _bare(work: PartWork) -> PartWork:
    """Return the work without loads and heights, which alone may differ."""
    replace = msgspec.structs.replace
    return replace(
        work,
        blocks=tuple(
            replace(block, rows=tuple(replace(row, loads=(), heights=()) for row in block.rows))
            for block in work.blocks
        ),
    )


def _settings(part: Part, works: list[PartWork]) -> tuple[SettingRow, ...]:
    cells: dict[str, list[SettingCell]] = {}
    tasks = {task.id: task for block in part.blocks for task in block.tasks}
    for work in works:
        rows = {row.task.id: row for block in work.blocks for row in block.rows}
        for name in tasks:
            row = rows.get(name)
            cell = SettingCell(
                loads=row.loads if row is not None else (),
                heights=row.heights if row is not None else (),
            )
            cells.setdefault(name, []).append(cell)
    return tuple(
        SettingRow(task=tasks[name], cells=tuple(listed))
        for name, listed in cells.items()
        if any(cell.loads or cell.heights for cell in listed)
    )
