"""The form by which a workout is amended: its caps, rounds, amounts, movements and loads."""

from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from typing import TypeVar

import msgspec
from msgspec.structs import replace

from callroom.model import BadInput, Block, Event, Finding, Part, PublishedLoad, Task, Workout
from callroom.model.workout import Unit
from callroom.views.wording import decimal, stopwatch
from callroom.web.forms.posted import Posted
from callroom.web.forms.published import read_load
from callroom.web.forms.typed import read_count, read_mass, read_time_ms

Value = TypeVar("Value")

NEW_ROWS = 2
"""Empty rows for tasks to add below each block; more take another amendment."""

UNITS: tuple[Unit, ...] = ("reps", "metres", "calories", "seconds")


class LoadFields(msgspec.Struct, frozen=True, kw_only=True):
    """The two fields of one prescribed load, with for whom it is (ids; empty: all)."""

    name: str
    load: PublishedLoad


class TaskFields(msgspec.Struct, frozen=True, kw_only=True):
    """The fields of one task; names are `name` with a dot and what they hold."""

    name: str
    task: Task
    loads: tuple[LoadFields, ...]


class BlockFields(msgspec.Struct, frozen=True, kw_only=True):
    """The fields of one block; `new` are the names of empty rows for tasks to add."""

    name: str
    block: Block
    tasks: tuple[TaskFields, ...]
    new: tuple[str, ...]


class PartFields(msgspec.Struct, frozen=True, kw_only=True):
    """The fields of one part."""

    name: str
    part: Part
    blocks: tuple[BlockFields, ...]


class AmendForm(msgspec.Struct, frozen=True, kw_only=True):
    """The form of one workout.

    `values` has what stands in each field by name, `faults` what is wrong with it.
    """

    workout: Workout
    parts: tuple[PartFields, ...]
    values: Mapping[str, str]
    faults: Mapping[str, Finding] = {}

    def value(self, name: str) -> str:
        """Return what stands in a field."""
        return self.values.get(name, "")


def amend_form(
    workout: Workout,
    typed: Mapping[str, str] | None = None,
    faults: tuple[Finding, ...] = (),
) -> AmendForm:
    """Return the form of a workout as it stands, or as `typed`, with what is wrong with it."""
    parts = tuple(_part(part) for part in workout.parts)
    values = dict(typed) if typed is not None else _values(workout, parts)
    by_field = {finding.subject: finding for finding in faults}
    return AmendForm(workout=workout, parts=parts, values=values, faults=by_field)


def read_amended(form: AmendForm, posted: Posted, event: Event) -> Workout:
    """Return the workout of `event` as the form was filled in.

    A task whose box is ticked is left out, and a block of which none is left; a new row with a
    movement is a task more.

    Raises
    ------
    BadInput
        With every field that cannot be read; a finding's subject is the name of its field.
    """
    reader = _Reader(posted, event)
    parts = tuple(reader.part(fields) for fields in form.parts)
    if reader.faults:
        raise BadInput(tuple(reader.faults))
    return replace(form.workout, parts=parts, text=posted.text("text"))


def _part(part: Part) -> PartFields:
    blocks = tuple(
        BlockFields(
            name=f"{part.id}.{block.id}",
            block=block,
            tasks=tuple(_task(part, task) for task in block.tasks),
            new=tuple(f"{part.id}.{block.id}.new{number}" for number in range(1, NEW_ROWS + 1)),
        )
        for block in part.blocks
    )
    return PartFields(name=part.id, part=part, blocks=blocks)


def _task(part: Part, task: Task) -> TaskFields:
    name = f"{part.id}.{task.id}"
    loads = tuple(
        LoadFields(name=f"{name}.load{index}", load=load) for index, load in enumerate(task.loads)
    )
    return TaskFields(name=name, task=task, loads=loads)


def _values(workout: Workout, parts: tuple[PartFields, ...]) -> dict[str, str]:
    values = {"text": workout.text}
    for part in parts:
        values[f"{part.name}.cap"] = stopwatch(part.part.cap_s)
        for block in part.blocks:
            values[f"{block.name}.rounds"] = str(block.block.rounds)
            for task in block.tasks:
                values |= _task_values(task)
    return values


def _task_values(fields: TaskFields) -> dict[str, str]:
    task = fields.task
    values = {
        f"{fields.name}.movement": task.movement,
        f"{fields.name}.amounts": "-".join(map(str, task.amounts)),
        f"{fields.name}.tighten": task.tighten,
    }
    for load in fields.loads:
        values[f"{load.name}.kg"] = "" if load.load.kg is None else decimal(load.load.kg)
        values[f"{load.name}.lb"] = "" if load.load.lb is None else decimal(load.load.lb)
    return values


class _Reader:
    """Reads the fields of a form; notes faults and goes on."""

    def __init__(self, posted: Posted, event: Event) -> None:
        self._posted = posted
        self._event = event
        self.faults: list[Finding] = []

    def part(self, fields: PartFields) -> Part:
        cap_ms = self._read(f"{fields.name}.cap", read_time_ms, "entry.time_unreadable")
        taken = {task.task.id for block in fields.blocks for task in block.tasks}
        blocks = tuple(self._block(block, taken) for block in fields.blocks)
        kept = tuple(block for block in blocks if block.tasks)
        return replace(fields.part, cap_s=(cap_ms or 0) // 1000, blocks=kept)

    def _block(self, fields: BlockFields, taken: set[str]) -> Block:
        rounds = fields.block.rounds
        if not fields.block.open_ended:
            typed = self._read(f"{fields.name}.rounds", read_count, "entry.count_unreadable")
            rounds = typed or 0
        tasks = [
            self._task(task)
            for task in fields.tasks
            if not self._posted.ticked(f"{task.name}.remove")
        ]
        for name in fields.new:
            if self._posted.text(f"{name}.movement"):
                self._insert(tasks, name, taken)
        return replace(fields.block, rounds=rounds, tasks=tuple(tasks))

    def _insert(self, tasks: list[Task], name: str, taken: set[str]) -> None:
        """Put a new task before the one that is named, else at the end."""
        unit = self._posted.text(f"{name}.unit")
        made = Task(
            id=_free(self._posted.text(f"{name}.movement"), taken),
            movement=self._posted.text(f"{name}.movement"),
            unit=next((one for one in UNITS if one == unit), "reps"),
            amounts=self._read(f"{name}.amounts", _amounts, "entry.amounts_unreadable") or (),
            loads=tuple(self._new_loads(name)),
        )
        before = self._posted.text(f"{name}.before")
        place = next((at for at, task in enumerate(tasks) if task.id == before), len(tasks))
        tasks.insert(place, made)

    def _new_loads(self, name: str) -> Iterator[PublishedLoad]:
        for category in ("", *(one.id for one in self._event.categories)):
            field = f"{name}.load.{category}"
            if self._posted.text(field):
                load = self._read(field, self._load_typed, "entry.load_unreadable")
                if load is not None:
                    yield replace(load, category=category)

    def _load_typed(self, text: str) -> PublishedLoad | None:
        return read_load(text, self._event.mass_unit)

    def _task(self, fields: TaskFields) -> Task:
        task = fields.task
        if task.amounts:
            amounts = self._read(f"{fields.name}.amounts", _amounts, "entry.amounts_unreadable")
            task = replace(task, amounts=amounts or ())
        return replace(
            task,
            movement=self._posted.text(f"{fields.name}.movement") or task.movement,
            tighten=self._posted.text(f"{fields.name}.tighten"),
            loads=tuple(self._load(load) for load in fields.loads),
        )

    def _load(self, fields: LoadFields) -> PublishedLoad:
        return replace(
            fields.load,
            kg=self._mass(f"{fields.name}.kg"),
            lb=self._mass(f"{fields.name}.lb"),
        )

    def _mass(self, name: str) -> Decimal | None:
        if not self._posted.text(name):
            return None
        mass = self._read(name, lambda text: read_mass(text, "kg"), "entry.load_unreadable")
        return None if mass is None else mass.amount

    def _read(self, name: str, read: Callable[[str], Value | None], rule: str) -> Value | None:
        text = self._posted.text(name)
        value = read(text)
        if value is None:
            facts = {"given": text[:40]}
            self.faults.append(Finding(rule=rule, severity="error", subject=name, facts=facts))
        return value


def _free(movement: str, taken: set[str]) -> str:
    """Return an id for a new task, and take it: its movement's, numbered if need be."""
    found, number = movement, 1
    while found in taken:
        number += 1
        found = f"{movement}_{number}"
    taken.add(found)
    return found


def _amounts(text: str) -> tuple[int, ...] | None:
    """Return ``"21-15-9"`` as whole numbers, or None."""
    counts = [read_count(one) for one in text.replace("–", "-").split("-")]
    known = tuple(count for count in counts if count is not None)
    return known if len(known) == len(counts) else None
