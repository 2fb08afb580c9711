"""Workouts of an event file: parts, blocks and tasks as TOML text."""

from collections.abc import Callable
from typing import Any

from callroom.exchange.event_day import EventDay
from callroom.exchange.event_tasks import ALL, AS_MUCH, NO_LIMIT, usual_task_id
from callroom.exchange.event_workouts import ONE_PART, usual_rounds
from callroom.exchange.quantities import (
    write_duration,
    write_height,
    write_load,
    write_milliseconds,
)
from callroom.exchange.toml_text import Column, TomlValue, chosen, toml_lines, toml_pairs
from callroom.model import (
    Block,
    Part,
    PublishedHeight,
    PublishedLoad,
    Switch,
    Task,
    TieBreak,
    Who,
    Workout,
)

Values = dict[str, TomlValue]


def write_workout(workout: Workout, day: EventDay) -> str:
    """Return the tables of one workout."""
    columns = (
        Column("judges_per_lane", 1),
        Column("walk_on_s", 60, "walk_on", write_duration),
        Column("countdown_s", 10, "countdown", write_duration),
        Column("sign_s", 60, "sign", write_duration),
        Column("strip_s", 60, "strip", write_duration),
        Column("report_s", 900, "report", write_duration),
        Column("release_s", None, "release", day.written),
    )
    path = f"workouts.{workout.id}"
    head: Values = {"name": workout.name, "floor": workout.floor, **chosen(workout, columns)}
    text = f"text = {toml_lines(workout.text)}\n" if workout.text else ""
    one_part = len(workout.parts) == 1 and _is_unnamed(workout.parts[0])
    tables = f"[{path}]\n" + toml_pairs(head)
    if one_part:
        part = workout.parts[0]
        return tables + toml_pairs(_part(part)) + text + _blocks(part, path)
    parts = (
        f"\n[{path}.parts.{part.id}]\n"
        + toml_pairs(({"name": part.name} if part.name else {}) | _part(part))
        + _blocks(part, f"{path}.parts.{part.id}")
        for part in workout.parts
    )
    return tables + text + "".join(parts)


def _is_unnamed(part: Part) -> bool:
    return part.id == ONE_PART and not part.name


def _part(part: Part) -> Values:
    columns = (
        Column("starts_s", 0, "starts", write_duration),
        Column("resolution_ms", 1000, "resolution", write_milliseconds),
        Column("tiebreak", None, write=_tiebreak),
        Column("cap_rule", "work_done"),
        Column("share_percent", 100, "worth", lambda percent: "half" if percent == 50 else percent),
        Column("buzzer_lift", "completed"),
        Column("all_lifts_needed", usual=False),
    )
    return {"result": part.kind, "cap": write_duration(part.cap_s), **chosen(part, columns)}


def _tiebreak(tiebreak: TieBreak) -> TomlValue:
    if not tiebreak.splits_finishers:
        return tiebreak.after
    return {"after": tiebreak.after, "splits_finishers": True}


def _blocks(part: Part, path: str) -> str:
    taken: set[str] = set()
    return "".join(
        _block(block, number, f"{path}.blocks", taken)
        for number, block in enumerate(part.blocks, start=1)
    )


def _block(block: Block, number: int, path: str, taken: set[str]) -> str:
    columns = (
        Column("id", f"b{number}"),
        Column("name", ""),
        Column("rounds", usual_rounds(block.tasks, open_ended=block.open_ended)),
        Column("open_ended", usual=False),
        Column("every_s", 0, "every", write_duration),
    )
    taken.add(block.id)
    return (
        f"\n[[{path}]]\n"
        + toml_pairs(chosen(block, columns))
        + "".join(_task(task, f"{path}.tasks", taken) for task in block.tasks)
    )


def _task(task: Task, path: str, taken: set[str]) -> str:
    head: Values = {"movement": task.movement}
    if task.id != usual_task_id(task.movement, taken):
        head["id"] = task.id
    taken.add(task.id)
    columns = (
        Column("mark", 1),
        Column("who", Who(), write=_who),
        Column("sharing", "split"),
        Column("working", 1),
        Column("least_each", 0),
        Column("strand", 0),
        Column("while_holding", ""),
        Column("loads", (), write=lambda loads: _published(loads, _load)),
        Column("heights", (), write=lambda heights: _published(heights, _height)),
        Column("variation", ""),
        Column("tighten", ""),
        Column("tighten_no_rep", ""),
    )
    told = chosen(task, columns) | _variation_rules(task)
    values = head | _amount(task) | told | _switch(task.switch)
    return f"[[{path}]]\n" + toml_pairs(values)


def _variation_rules(task: Task) -> Values:
    """Return what is allowed and barred, a list of variations for all or by division."""
    told: Values = {}
    for key, allowed in (("allow", True), ("bar", False)):
        table: dict[str, Any] = {}
        for rule in task.variation_rules:
            if rule.allowed == allowed:
                table.setdefault(rule.division or ALL, []).append(rule.variation)
        if table:
            told[key] = table[ALL] if set(table) == {ALL} else table
    return told


def _amount(task: Task) -> Values:
    if task.unit == "lift":
        return {"tries": task.tries or NO_LIMIT}
    if not task.amounts:
        return {task.unit: AS_MUCH}
    return {task.unit: task.amounts[0] if len(task.amounts) == 1 else list(task.amounts)}


def _who(who: Who) -> str:
    if who.kind == "category":
        return who.category
    return ", ".join(who.places) if who.kind == "places" else who.kind


def _switch(switch: Switch) -> Values:
    kind = f"every {switch.every}" if switch.kind == "every" else switch.kind
    told: Values = {"switch": kind} if switch.kind != "freely" else {}
    return {**told, "hand_tag": True} if switch.hand_tag else told


def _load(load: PublishedLoad) -> str:
    return write_load(load.count, load.kg, load.lb)


def _height(height: PublishedHeight) -> str:
    return write_height(height.cm, height.inch)


def _published(things: tuple[Any, ...], write: Callable[[Any], str]) -> TomlValue:
    """Return one text where it is for all, else a table by division and category."""
    if len(things) == 1 and not things[0].division and not things[0].category:
        return write(things[0])
    table: dict[str, Any] = {}
    for thing in things:
        in_division = [one for one in things if one.division == thing.division]
        if not thing.division:
            table[thing.category or ALL] = write(thing)
        elif len(in_division) == 1 and not thing.category:
            table[thing.division] = write(thing)
        else:
            table.setdefault(thing.division, {})[thing.category or ALL] = write(thing)
    return table
