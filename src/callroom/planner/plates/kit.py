"""Everything a heat needs, counted against the kit list."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.kit import KitItem
from callroom.model.mass import Mass
from callroom.model.movement import Movement
from callroom.model.plan import Heat, Plan
from callroom.model.steps import doers, tasks_of
from callroom.model.team import Team
from callroom.model.workout import Task, Workout
from callroom.planner.plates.pose import BARBELL, implements
from callroom.planner.plates.report import text
from callroom.planner.plates.rules import RULES

PARTS_OF_BARS = frozenset({"plates"})
"""What the loadings themselves count."""
KINDS = {BARBELL: "bar", "collars": "collar", "dumbbell": "dumbbell", "kettlebell": "kettlebell"}


class Need(NamedTuple):
    """A thing, and any of the masses that will do (none: any mass)."""

    item: str
    loads: tuple[Mass, ...] = ()


Needs = dict[Need, int]


def lane_needs(
    workout: Workout, team: Team, event: Event, movements: Mapping[str, Movement]
) -> Needs:
    """Return what a lane needs for a workout, each thing as many as it takes at one time.

    Tasks that follow each other share what they have in common; strands, which run side by
    side, do not, nor do a task and what a partner holds meanwhile.
    """
    division = event.division(team.division)
    most: Needs = {}
    for part in workout.parts:
        for block in part.blocks:
            strands: dict[int, Needs] = {}
            for task in tasks_of(block, division):
                at_once: Needs = {}
                for movement_id in (task.movement, task.while_holding):
                    if movement_id in movements:
                        _add(at_once, _of_task(task, team, event, movements[movement_id]))
                _raise(strands.setdefault(task.strand, {}), at_once)
            together: Needs = {}
            for needs in strands.values():
                _add(together, needs)
            _raise(most, together)
    return most


def _add(total: Needs, needs: Needs) -> None:
    for need, count in needs.items():
        total[need] = total.get(need, 0) + count


def _raise(most: Needs, needs: Needs) -> None:
    for need, count in needs.items():
        most[need] = max(most.get(need, 0), count)


def _of_task(task: Task, team: Team, event: Event, movement: Movement) -> Needs:
    """Return what one task needs; the first thing its movement lists is what is loaded."""
    division = event.division(team.division)
    at_once = min(task.working, doers(task, division)) if task.sharing != "carry" else 1
    wanted = list(implements(task, division))
    needs: Needs = {}
    for place, item in enumerate(movement.kit):
        each = item.count if item.per == "athlete" else 0
        if item.item in PARTS_OF_BARS:
            continue
        if place == 0 and item.item != BARBELL and any(loads for _, _, loads in wanted):
            for _, count, loads in wanted:
                need = Need(item.item, loads)
                carried = 1 if task.sharing == "carry" else count
                needs[need] = needs.get(need, 0) + (each * carried or item.count)
            continue
        heads = sum(count for _, count, _ in wanted) if item.item in KINDS else at_once
        needs[Need(item.item)] = each * heads or item.count
    return needs


def kit_findings(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    kit: Iterable[KitItem],
    movements: Mapping[str, Movement],
) -> tuple[Finding, ...]:
    """Return what is short in some heat: of each thing the worst, at its first heat.

    A heat has what stands on its floor and what can be moved, less what heats on other
    floors have of that at the same time. Things that the kit list does not name at all are
    noted once.
    """
    known, items = {team.id: team for team in teams}, tuple(kit)
    heats = sorted(plan.heats, key=lambda heat: (heat.start_s, heat.id))
    needs = {heat.id: heat_needs(event, heat, known, movements) for heat in heats}
    short: dict[Need, tuple[int, Finding]] = {}
    unlisted: dict[str, Finding] = {}
    for heat in heats:
        for need, count in needs[heat.id].items():
            at, facts = f"heat.{heat.id}", {"item": need.item.replace("_", " "), "heat": heat.id}
            if not any(_is(item, need.item) for item in items):
                found = RULES.found("kit.not_listed", at, **facts, needed=count)
                unlisted.setdefault(need.item, found)
                continue
            there = _there(items, need, heat, heats, needs)
            missing = count - there
            if missing > short.get(need, (0, None))[0]:
                mass = " / ".join(text(load) for load in need.loads)
                short[need] = (
                    missing,
                    RULES.found("kit.short", at, **facts, mass=mass, needed=count, there=there),
                )
    return (*(found for _, found in short.values()), *unlisted.values())


def lane_findings(
    workout: Workout,
    event: Event,
    kit: Iterable[KitItem],
    movements: Mapping[str, Movement],
) -> tuple[Finding, ...]:
    """Return what one lane of some division needs more of than there is on or for its floor.

    A workout that is short in one lane cannot be run at all, however the heats are laid. Things
    that the kit list does not name are passed over.
    """
    items = tuple(kit)
    here = [item for item in items if item.floor in {"", workout.floor}]
    short: dict[Need, Finding] = {}
    for division in event.divisions:
        team = Team(id="", name="", division=division.id)
        for need, count in lane_needs(workout, team, event, movements).items():
            there = sum(item.count for item in here if fits(item, need))
            if count > there and any(_is(item, need.item) for item in items):
                found = RULES.found(
                    "kit.lane_short",
                    _first_needing(need, workout, team, event, movements),
                    workout=workout.id,
                    item=need.item.replace("_", " "),
                    mass=" / ".join(text(load) for load in need.loads),
                    division=division.id,
                    needed=count,
                    there=there,
                )
                short.setdefault(need, found)
    return tuple(short.values())


def _first_needing(
    need: Need, workout: Workout, team: Team, event: Event, movements: Mapping[str, Movement]
) -> str:
    """Return the field that says the first movement which needs a thing."""
    for part in workout.parts:
        for block in part.blocks:
            for task in tasks_of(block, event.division(team.division)):
                for field in ("movement", "while_holding"):
                    movement = movements.get(getattr(task, field))
                    if movement is not None and need in _of_task(task, team, event, movement):
                        at = f"workouts.{workout.id}.parts.{part.id}.blocks.{block.id}"
                        return f"{at}.tasks.{task.id}.{field}"
    return f"workouts.{workout.id}"


def heat_needs(
    event: Event, heat: Heat, teams: Mapping[str, Team], movements: Mapping[str, Movement]
) -> Needs:
    """Return what all lanes of a heat need together."""
    total: Needs = {}
    for place in heat.lanes:
        if place.team in teams:
            _add(
                total,
                lane_needs(event.workout(heat.workout), teams[place.team], event, movements),
            )
    return total


def _there(
    items: tuple[KitItem, ...],
    need: Need,
    heat: Heat,
    heats: list[Heat],
    needs: Mapping[str, Needs],
) -> int:
    """Return how many of a thing a heat can have."""
    fitting = [item for item in items if fits(item, need)]
    here = sum(item.count for item in fitting if item.floor == heat.floor)
    movable = sum(item.count for item in fitting if not item.floor)
    for other in heats:
        if other.floor != heat.floor and _meet(heat, other) and movable:
            standing = sum(item.count for item in fitting if item.floor == other.floor)
            movable -= max(needs[other.id].get(need, 0) - standing, 0)
    return here + max(movable, 0)


def at_once(heat: Heat, heats: Iterable[Heat], needs: Mapping[str, Needs]) -> Needs:
    """Return what is needed when a heat begins: by it, and by those on the floors by then."""
    total: Needs = {}
    for other in heats:
        if other.start_s <= heat.start_s < other.end_s:
            _add(total, needs[other.id])
    return total


def _meet(one: Heat, other: Heat) -> bool:
    return one.start_s < other.end_s and other.start_s < one.end_s


def fits(item: KitItem, need: Need) -> bool:
    """Return whether a piece is the thing needed; one without a mass is of any mass."""
    if not _is(item, need.item):
        return False
    if not need.loads or item.mass is None:
        return True
    return any(item.mass.grams() == load.grams() for load in need.loads)


def _is(item: KitItem, thing: str) -> bool:
    """Return whether a piece of kit is a thing, by its kind or else by its name."""
    if thing in KINDS:
        return item.kind == KINDS[thing]
    wanted = [word.rstrip("s") for word in thing.split("_")]
    words = item.name.casefold().replace(":", " ").replace(",", " ").split()
    return [word.rstrip("s") for word in words][: len(wanted)] == wanted
