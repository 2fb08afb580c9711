"""The checks of a task: amounts, who does it and how it is shared, loads and heights."""

from collections import Counter
from collections.abc import Iterator

from callroom.model.checking.spot import Spot
from callroom.model.division import Division
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.mass import PublishedHeight, PublishedLoad
from callroom.model.movement import LONGEST_LABEL
from callroom.model.permitted import division_switches, task_switches
from callroom.model.steps import doers, place_names
from callroom.model.workout import Block, Part, Task

Published = tuple[PublishedLoad, ...] | tuple[PublishedHeight, ...]


def check_task(event: Event, part: Part, block: Block, task: Task, here: Spot) -> Iterator[Finding]:
    """Give every fault of one task, which stands `here` in the event."""
    if not task.movement:
        yield here.found("task.movement_missing", "movement")
    yield from _lift(part, task, here)
    yield from _amounts(block, task, here)
    yield from _numbers(task, here)
    yield from _who(event, task, here)
    for division in event.divisions:
        yield from _sharing(division, task, here)
    yield from _permitted(event, task, here)
    for field in ("loads", "heights"):
        yield from _published(event, task, here, field)


def _lift(part: Part, task: Task, here: Spot) -> Iterator[Finding]:
    if task.unit != "lift":
        return
    if part.kind != "load":
        yield here.found("task.lift_in_other_kind", "unit")
    if task.amounts:
        yield here.found("task.lift_with_amounts", "amounts")


def _amounts(block: Block, task: Task, here: Spot) -> Iterator[Finding]:
    if task.unit == "lift":
        return
    as_much_as_possible = block.open_ended and len(block.tasks) == 1
    if not task.amounts and not as_much_as_possible:
        yield here.found("task.amounts_missing", "amounts")
    if len(task.amounts) > 1 and len(task.amounts) != block.rounds:
        yield here.found(
            "task.amounts_wrong_count", "amounts", given=len(task.amounts), rounds=block.rounds
        )
    if task.mark < 1:
        yield here.found("task.mark_not_positive", "mark", mark=task.mark)
    for amount in sorted(set(task.amounts)):
        if amount < 1:
            yield here.found("task.amount_not_positive", "amounts", amount=amount)
        elif task.mark >= 1 and amount % task.mark:
            yield here.found("task.amount_not_in_marks", "amounts", amount=amount, mark=task.mark)


def _numbers(task: Task, here: Spot) -> Iterator[Finding]:
    if task.working < 1:
        yield here.found("task.working_not_positive", "working", working=task.working)
    for field in ("least_each", "tries"):
        number = getattr(task, field)
        if number < 0:
            yield here.found("task.number_negative", field, field=field, number=number)
    if task.switch.kind == "every" and task.switch.every < 1:
        yield here.found("task.switch_not_positive", "switch", every=task.switch.every)


def _who(event: Event, task: Task, here: Spot) -> Iterator[Finding]:
    if task.who.kind == "category":
        known = {category.id for category in event.categories}
        if task.who.category not in known:
            yield here.found("task.category_unknown", "who", category=task.who.category)
            return
    for division in event.divisions:
        if doers(task, division) == 0:
            yield here.found("task.nobody", "who", division=division.id)
        elif missing := set(task.who.places) - set(place_names(division)):
            yield here.found(
                "task.place_missing",
                "who",
                division=division.id,
                places=", ".join(sorted(missing)),
            )


def _sharing(division: Division, task: Task, here: Spot) -> Iterator[Finding]:
    available = doers(task, division)
    if available and task.working > available:
        yield here.found(
            "task.too_many_working",
            "working",
            division=division.id,
            working=task.working,
            available=available,
        )
    if task.sharing != "split" or task.least_each < 1 or task.mark < 1 or not task.amounts:
        return
    counts = min(task.amounts) // task.mark
    if task.least_each * available > counts:
        yield here.found(
            "task.least_share_too_big",
            "least_each",
            division=division.id,
            least_each=task.least_each,
            available=available,
            counts=counts,
        )


def _permitted(event: Event, task: Task, here: Spot) -> Iterator[Finding]:
    """Find what a division may not do: a movement, or a variation that the task asks for."""
    known = {division.id for division in event.divisions}
    if len(task.tighten_no_rep) > LONGEST_LABEL:
        yield here.found(
            "task.no_rep_long",
            "tighten_no_rep",
            given=task.tighten_no_rep[:40],
            most=LONGEST_LABEL,
        )
    said = Counter((rule.variation, rule.division) for rule in task.variation_rules)
    for (variation, _), times in said.items():
        if times > 1:
            yield here.found("task.variation_twice", "variation_rules", variation=variation)
    for rule in task.variation_rules:
        if rule.division and rule.division not in known:
            yield here.found(
                "task.variation_division_unknown", "variation_rules", division=rule.division
            )
    for division in event.divisions:
        if not doers(task, division):
            continue
        for field in ("movement", "while_holding"):
            movement = getattr(task, field)
            if movement and division.bars(movement):
                yield here.found(
                    "task.movement_barred", field, division=division.id, movement=movement
                )
        barred = division_switches(task.movement, division)
        for variation, allowed in task_switches(task, division.id).items():
            if allowed and not barred.get(variation, True):
                field = "variation" if variation == task.variation else "variation_rules"
                yield here.found(
                    "task.variation_barred", field, division=division.id, variation=variation
                )


def _published(event: Event, task: Task, here: Spot, field: str) -> Iterator[Finding]:
    things: Published = getattr(task, field)
    divisions = {division.id for division in event.divisions}
    categories = {category.id for category in event.categories}
    for thing in things:
        yield from _values(thing, here, field)
        if thing.division and thing.division not in divisions:
            yield here.found(
                "published.division_unknown", field, field=field, division=thing.division
            )
        if thing.category and thing.category not in categories:
            yield here.found(
                "published.category_unknown", field, field=field, category=thing.category
            )
    for (division, category), count in Counter(
        (thing.division, thing.category) for thing in things
    ).items():
        if count > 1:
            yield here.found(
                "published.twice", field, field=field, division=division, category=category
            )
    if things:
        yield from _left_out(event, task, here, field)


def _values(thing: PublishedLoad | PublishedHeight, here: Spot, field: str) -> Iterator[Finding]:
    if isinstance(thing, PublishedLoad):
        values = [thing.kg, thing.lb]
        if thing.count < 1:
            yield here.found("published.count_not_positive", field, count=thing.count)
    else:
        values = [thing.cm, thing.inch]
    given = [value for value in values if value is not None]
    if not given:
        yield here.found("published.empty", field, field=field)
    for value in given:
        if value <= 0:
            yield here.found("published.not_positive", field, field=field, given=str(value))


def _left_out(event: Event, task: Task, here: Spot, field: str) -> Iterator[Finding]:
    """Find the divisions and categories that do the task and have nothing published."""
    things: Published = getattr(task, field)
    said = {(thing.division, thing.category) for thing in things}
    for division in event.divisions:
        for part in division.make_up:
            if task.who.kind == "category" and task.who.category != part.category:
                continue
            fits = {(of, category) for of in ("", division.id) for category in ("", part.category)}
            if not fits & said:
                yield here.found(
                    "published.missing",
                    field,
                    field=field,
                    division=division.id,
                    category=part.category,
                )
