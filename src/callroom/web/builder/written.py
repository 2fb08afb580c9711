"""From a workout to the texts of its fields."""

from callroom.model import Block, Event, Part, Task, Workout, wall_time
from callroom.views.wording import stopwatch
from callroom.web.builder.draft import Node
from callroom.web.builder.read import ALLOWED, ASKED, BARRED
from callroom.web.forms.published import write_height, write_load

TICKED = "yes"


def written(event: Event, workout: Workout) -> Node:
    """Return a workout as a draft that :func:`callroom.web.builder.read_workout` reads back."""
    texts = {
        "id": workout.id,
        "name": workout.name,
        "floor": workout.floor,
        "text": workout.text,
        "judges_per_lane": str(workout.judges_per_lane),
        "walk_on_s": stopwatch(workout.walk_on_s),
        "countdown_s": stopwatch(workout.countdown_s),
        "sign_s": stopwatch(workout.sign_s),
        "strip_s": stopwatch(workout.strip_s),
        "report_s": stopwatch(workout.report_s),
        "release_s": _release(event, workout),
    }
    return Node(texts=texts, inside=tuple(_part(part) for part in workout.parts))


def _release(event: Event, workout: Workout) -> str:
    """Return when it is released as a browser's date and time field has it."""
    if workout.release_s is None:
        return ""
    wall = wall_time(event.instant(workout.release_s), event.zone)
    return wall.replace(tzinfo=None).isoformat(timespec="seconds")


def _part(part: Part) -> Node:
    texts = {
        "id": part.id,
        "name": part.name,
        "kind": part.kind,
        "cap_s": stopwatch(part.cap_s),
        "starts_s": stopwatch(part.starts_s) if part.starts_s else "",
        "resolution_ms": str(part.resolution_ms),
        "tiebreak": part.tiebreak.after if part.tiebreak is not None else "",
        "splits_finishers": TICKED
        if part.tiebreak is not None and part.tiebreak.splits_finishers
        else "",
        "cap_rule": part.cap_rule,
        "share_percent": str(part.share_percent),
        "buzzer_lift": part.buzzer_lift,
        "all_lifts_needed": TICKED if part.all_lifts_needed else "",
    }
    return Node(texts=texts, inside=tuple(_block(block) for block in part.blocks))


def _block(block: Block) -> Node:
    texts = {
        "id": block.id,
        "name": block.name,
        "rounds": str(block.rounds),
        "open_ended": TICKED if block.open_ended else "",
        "every_s": stopwatch(block.every_s) if block.every_s else "",
    }
    return Node(texts=texts, inside=tuple(_task(task) for task in block.tasks))


def _task(task: Task) -> Node:
    who = task.who
    texts = {
        "id": task.id,
        "movement": task.movement,
        "unit": task.unit,
        "amounts": "-".join(map(str, task.amounts)),
        "mark": _unless(task.mark, 1),
        "who": f"category:{who.category}" if who.kind == "category" else who.kind,
        "places": ", ".join(who.places),
        "sharing": task.sharing,
        "working": _unless(task.working, 1),
        "switch": task.switch.kind,
        "every": _unless(task.switch.every, 0),
        "hand_tag": TICKED if task.switch.hand_tag else "",
        "least_each": _unless(task.least_each, 0),
        "strand": _unless(task.strand, 0),
        "while_holding": task.while_holding,
        "tighten": task.tighten,
        "tighten_no_rep": task.tighten_no_rep,
        "tries": _unless(task.tries, 0),
    }
    for rule in task.variation_rules:
        said = ALLOWED if rule.allowed else BARRED
        texts[f"way:{rule.division}:{rule.variation}"] = said
    if task.variation:
        texts[f"way::{task.variation}"] = ASKED
    for load in task.loads:
        texts[f"load:{load.division}:{load.category}"] = write_load(load)
    for height in task.heights:
        texts[f"height:{height.division}:{height.category}"] = write_height(height)
    return Node(texts=texts)


def _unless(number: int, usual: int) -> str:
    return "" if number == usual else str(number)
