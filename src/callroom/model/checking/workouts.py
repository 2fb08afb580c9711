"""The checks of a workout: its parts, their clocks and blocks, and where they tie-break."""

from collections.abc import Iterator

from callroom.model.checking.spot import Spot
from callroom.model.checking.tasks import check_task
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.steps import doers
from callroom.model.workout import Block, Part, Workout


def check_workout(event: Event, workout: Workout) -> Iterator[Finding]:
    """Give every fault of one workout."""
    here = Spot(f"workouts.{workout.id}", {"workout": workout.id})
    if workout.floor not in {floor.id for floor in event.floors}:
        yield here.found("workout.floor_unknown", "floor", floor=workout.floor)
    if not workout.parts:
        yield here.found("workout.no_parts", "parts")
    for field in (
        "judges_per_lane",
        "walk_on_s",
        "countdown_s",
        "sign_s",
        "strip_s",
        "report_s",
    ):
        number = getattr(workout, field)
        if number < 0:
            yield here.found("workout.number_negative", field, field=field, number=number)
    for part in workout.parts:
        yield from _part(event, workout, part)


def _part(event: Event, workout: Workout, part: Part) -> Iterator[Finding]:
    here = Spot(f"workouts.{workout.id}.parts.{part.id}", {"workout": workout.id, "part": part.id})
    yield from _clock(part, here)
    yield from _kind(part, here)
    yield from _tiebreak(event, part, here)
    endless = ""
    for block in part.blocks:
        if endless:
            yield here.found("block.never_reached", "blocks", block=block.id, after=endless)
        endless = endless or (block.id if block.open_ended else "")
        yield from _block(event, part, block, here)


def _clock(part: Part, here: Spot) -> Iterator[Finding]:
    if part.cap_s <= 0:
        yield here.found("part.cap_not_positive", "cap_s", cap_s=part.cap_s)
    if part.starts_s < 0:
        yield here.found("part.start_negative", "starts_s", starts_s=part.starts_s)
    if part.resolution_ms <= 0:
        yield here.found(
            "part.resolution_not_positive", "resolution_ms", resolution_ms=part.resolution_ms
        )
    if not 1 <= part.share_percent <= 100:
        yield here.found(
            "part.share_out_of_range", "share_percent", share_percent=part.share_percent
        )
    if part.cap_rule == "second_per_missing":
        if part.kind != "time":
            yield here.found("part.cap_rule_unused", "cap_rule", kind=part.kind)
        elif part.resolution_ms > 1000:
            yield here.found(
                "part.resolution_hides_missing", "resolution_ms", resolution_ms=part.resolution_ms
            )


def _kind(part: Part, here: Spot) -> Iterator[Finding]:
    if not part.blocks:
        yield here.found("part.no_blocks", "blocks")
        return
    units = {task.unit for block in part.blocks for task in block.tasks}
    if part.kind == "time" and any(block.open_ended for block in part.blocks):
        yield here.found("part.time_without_end", "blocks")
    if part.kind == "load" and "lift" not in units:
        yield here.found("part.load_without_lift", "blocks")
    if part.kind == "distance" and "metres" not in units:
        yield here.found("part.distance_without_metres", "blocks")


def _tiebreak(event: Event, part: Part, here: Spot) -> Iterator[Finding]:
    if part.tiebreak is None:
        return
    after = part.tiebreak.after
    names = {block.id for block in part.blocks}
    names |= {task.id for block in part.blocks for task in block.tasks}
    if after == "round" and after not in names:
        if not any(block.open_ended or block.rounds > 1 for block in part.blocks):
            yield here.found("tiebreak.no_rounds", "tiebreak")
    elif after not in names:
        yield here.found("tiebreak.unknown", "tiebreak", after=after)
    elif after not in _ends(part):
        yield here.found("tiebreak.never_reached", "tiebreak", after=after)
    elif part.kind == "time" and after in _finish(part):
        yield here.found("tiebreak.is_the_finish", "tiebreak", after=after)
    tasks = {task.id: task for block in part.blocks for task in block.tasks}
    for division in event.divisions if after in tasks else ():
        if not doers(tasks[after], division):
            yield here.found("tiebreak.nobody", "tiebreak", after=after, division=division.id)


def _ends(part: Part) -> set[str]:
    """Return the blocks and tasks that a team which is fast enough comes to the end of."""
    reached: set[str] = set()
    for block in part.blocks:
        reached |= {task.id for task in block.tasks}
        if block.open_ended:
            break
        reached.add(block.id)
    return reached


def _finish(part: Part) -> set[str]:
    """Return what ends with the part itself, so that its split says no more than the finish."""
    last = part.blocks[-1]
    if len({task.strand for task in last.tasks}) > 1:
        return {last.id}
    return {last.id, *(task.id for task in last.tasks[-1:])}


def _block(event: Event, part: Part, block: Block, here: Spot) -> Iterator[Finding]:
    inside = Spot(f"{here.path}.blocks.{block.id}", {**here.ids, "block": block.id})
    if not block.tasks:
        yield inside.found("block.no_tasks", "tasks")
    if block.rounds < 1:
        yield inside.found("block.rounds_not_positive", "rounds", rounds=block.rounds)
    elif block.open_ended and block.rounds != 1:
        yield inside.found("block.open_ended_rounds", "rounds", rounds=block.rounds)
    if block.every_s < 0:
        yield inside.found("block.interval_negative", "every_s", every_s=block.every_s)
    elif (block.rounds - 1) * block.every_s >= part.cap_s > 0:
        yield inside.found(
            "block.rounds_past_cap",
            "rounds",
            rounds=block.rounds,
            every_s=block.every_s,
            cap_s=part.cap_s,
        )
    for task in block.tasks:
        there = Spot(f"{inside.path}.tasks.{task.id}", {**here.ids, "task": task.id})
        yield from check_task(event, part, block, task, there)
