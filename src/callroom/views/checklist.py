"""The checklists: what the event's own content asks to be done before, on and after the day.

They are a start from common practice, no source, and no advice about law: whom to ask is said,
not what the answer is. Local authorities, the venue, the insurer and the medical lead decide.
"""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta
from decimal import Decimal

import msgspec

from callroom.model import Event, Fact, Finding, State, Workout
from callroom.model.checks import PHASES, OwnCheck, Phase, Tick
from callroom.model.movement import Movement
from callroom.model.side_programme import SideKind
from callroom.views.safety_plan import safety_plan

_RIG = frozenset({"pull_up_bar", "rings", "climbing_rope"})
_MACHINES = frozenset({"rowing_machine", "ski_machine", "bike_machine"})
_OVERHEAD_FROM_M = Decimal("2.6")
_TRAVEL_FROM_M = 5


class Check(msgspec.Struct, frozen=True, kw_only=True):
    """One point of the lists.

    Attributes
    ----------
    id
        Stays the same as long as what gives rise to it does: a tick belongs to it.
    says
        What has to be done, as a finding; the sentence of ``<rule>_why`` says why. None for a
        point of the director's own, whose `text` is what they wrote.
    post
        Whose it is: a post of the crew, or ``director``.
    by
        The day by which it should be done, counted back from the event's.
    tick
        When it was ticked and by whom; None: it is open.
    """

    id: str
    phase: Phase
    post: str
    by: date
    says: Finding | None = None
    text: str = ""
    tick: Tick | None = None


class _Draft(msgspec.Struct, frozen=True):
    """A point before it is dated: phase, days before the day, post, rule, facts.

    `key` tells points of one rule apart, and stays when what they name is renamed.
    """

    phase: Phase
    days: int
    post: str
    rule: str
    facts: Mapping[str, Fact] = {}
    key: str = ""


def checklist(state: State, event: Event, movements: Mapping[str, Movement]) -> tuple[Check, ...]:
    """Return every point, by phase and then by the day it is due.

    `movements` are the library's and the event's own, by id.
    """
    drafts = [
        *_always(state, event),
        *_outdoors(state, event, movements),
        *_work(event, movements),
        *_kit(state),
        *_people(state),
        *_side(state),
        *_money(state),
        *_whole_day(),
    ]
    found = [_dated(draft, state, event) for draft in drafts]
    found += [_own(check, state, event) for check in state.own_checks.values()]
    return tuple(sorted(found, key=lambda one: (PHASES.index(one.phase), one.by)))


def open_before(state: State, event: Event, movements: Mapping[str, Movement]) -> tuple[Check, ...]:
    """Return the points of before the day that nobody has ticked, the soonest due first.

    What the list of what is still open takes from here.
    """
    points = checklist(state, event, movements)
    return tuple(one for one in points if one.phase == "before" and one.tick is None)


def _dated(draft: _Draft, state: State, event: Event) -> Check:
    rule = draft.rule.removeprefix("check.")
    id_ = f"{rule}:{draft.key}" if draft.key else rule
    finding = Finding(
        rule=draft.rule, severity="note", subject=f"check:{id_}", facts=dict(draft.facts)
    )
    return Check(
        id=id_,
        phase=draft.phase,
        post=draft.post,
        by=event.day - timedelta(days=draft.days),
        says=finding,
        tick=state.ticks.get(id_),
    )


def _own(check: OwnCheck, state: State, event: Event) -> Check:
    return Check(
        id=check.id,
        phase=check.phase,
        post=check.post or "director",
        by=event.day - timedelta(days=check.days_before),
        text=check.text,
        tick=state.ticks.get(check.id),
    )


def _always(state: State, event: Event) -> Iterator[_Draft]:
    yield _Draft("before", 56, "director", "check.venue")
    yield _Draft("before", 42, "director", "check.insurance")
    yield _Draft("before", 42, "director", "check.crowd")
    yield _Draft("before", 28, "first_aid", "check.first_aid")
    settled = safety_plan(state, event, {}).open_points
    if settled:
        yield _Draft("before", 14, "director", "check.safety_open", {"count": len(settled)})
    yield _Draft("before", 14, "director", "check.floor_plan")
    yield _Draft("before", 10, "director", "check.rota")
    yield _Draft("before", 7, "head_judge", "check.self_check")
    if event.address:
        yield _Draft("before", 3, "director", "check.phone", {"address": event.address})
    yield _Draft("before", 2, "director", "check.print")
    yield _Draft("before", 1, "director", "check.standby")
    hidden = [workout.name for workout in event.workouts if workout.release_s is not None]
    if hidden:
        yield _Draft("before", 1, "desk", "check.release", {"names": ", ".join(hidden)})


def _outdoors(state: State, event: Event, movements: Mapping[str, Movement]) -> Iterator[_Draft]:
    outdoor = {floor.id for floor in event.floors if floor.outdoor}
    if not outdoor:
        return
    for workout in event.workouts:
        if workout.floor in outdoor:
            yield _Draft(
                "before", 21, "director", "check.wet", {"workout": workout.name}, workout.id
            )
            if _travels(workout, movements):
                yield _Draft(
                    "before", 7, "floor", "check.course", {"workout": workout.name}, workout.id
                )
    if not state.safety.shelter.strip():
        yield _Draft("before", 14, "director", "check.shelter")
    yield _Draft("before", 7, "director", "check.shade")
    yield _Draft("morning", 0, "floor", "check.weather_read")
    yield _Draft("during", 0, "floor", "check.weather_again")


def _travels(workout: Workout, movements: Mapping[str, Movement]) -> bool:
    return any(
        task.unit == "metres"
        and task.movement in movements
        and movements[task.movement].space.length_m >= _TRAVEL_FROM_M
        for part in workout.parts
        for block in part.blocks
        for task in block.tasks
    )


def _work(event: Event, movements: Mapping[str, Movement]) -> Iterator[_Draft]:
    where: dict[str, list[str]] = {}
    for workout in event.workouts:
        for tag in sorted(_tags(workout, movements)):
            where.setdefault(tag, []).append(workout.name)
    named: dict[str, dict[str, Fact]] = {
        tag: {"names": ", ".join(names)} for tag, names in where.items()
    }
    if "overhead" in where:
        yield _Draft("before", 7, "kit", "check.overhead", named["overhead"])
    if "bar" in where:
        yield _Draft("before", 7, "kit", "check.collars", named["bar"])
        yield _Draft("during", 0, "kit", "check.collars_on", named["bar"])
    if "grip" in where:
        yield _Draft("before", 7, "kit", "check.chalk", named["grip"])
        yield _Draft("during", 0, "floor", "check.sweep", named["grip"])
    if "rig" in where:
        yield _Draft("before", 14, "floor", "check.rig", named["rig"])
        yield _Draft("morning", 0, "floor", "check.rig_hung", named["rig"])
    if "machine" in where:
        yield _Draft("before", 3, "kit", "check.machines", named["machine"])


def _tags(workout: Workout, movements: Mapping[str, Movement]) -> set[str]:
    """Return which kinds of work a workout has that need looking after."""
    tags: set[str] = set()
    for part in workout.parts:
        for block in part.blocks:
            for task in block.tasks:
                movement = movements.get(task.movement)
                if movement is None:
                    continue
                kit = {need.item for need in movement.kit}
                if "barbell" in kit:
                    tags.add("bar")
                    if movement.space.height_m >= _OVERHEAD_FROM_M:
                        tags.add("overhead")
                if kit & _RIG:
                    tags |= {"rig", "grip"}
                if "grip" in movement.capacities:
                    tags.add("grip")
                if kit & _MACHINES:
                    tags.add("machine")
    return tags


def _kit(state: State) -> Iterator[_Draft]:
    pieces: dict[str, int] = {}
    for item in state.kit:
        if item.lender:
            pieces[item.lender] = pieces.get(item.lender, 0) + item.count
    for lender, count in pieces.items():
        facts: dict[str, Fact] = {"lender": lender, "count": count}
        yield _Draft("before", 3, "kit", "check.fetch", facts, lender)
        yield _Draft("after", -2, "kit", "check.return", facts, lender)


def _people(state: State) -> Iterator[_Draft]:
    if state.safety.minors:
        yield _Draft("before", 7, "desk", "check.guardians")
        yield _Draft("before", 14, "director", "check.alone")
    yield _Draft("after", -3, "director", "check.thanks")
    yield _Draft("after", -30, "director", "check.erase")


_ASK: tuple[tuple[SideKind, int, str], ...] = (
    ("raffle", 42, "check.raffle_ask"),
    ("collection", 42, "check.collection_ask"),
    ("food", 28, "check.food_ask"),
    ("drink", 28, "check.food_ask"),
    ("music", 28, "check.music_ask"),
    ("stall", 28, "check.stall_ask"),
    ("attraction", 28, "check.attraction_ask"),
    ("children", 14, "check.children_ask"),
)


def permit_rule(kind: SideKind) -> str:
    """Return the rule that says whom to ask about a kind of thing; empty: nobody in particular."""
    return next((rule for one, _, rule in _ASK if one == kind), "")


def _side(state: State) -> Iterator[_Draft]:
    names: dict[str, list[str]] = {}
    days: dict[str, int] = {}
    kinds = set()
    for item in state.side.values():
        kinds.add(item.kind)
        for kind, before, rule in _ASK:
            if kind == item.kind:
                names.setdefault(rule, []).append(item.name)
                days[rule] = max(days.get(rule, 0), before)
    for rule, listed in names.items():
        yield _Draft("before", days[rule], "director", rule, {"names": ", ".join(listed)})
    if {"food", "drink"} & kinds:
        yield _Draft("before", 7, "director", "check.allergens")
        yield _Draft("morning", 0, "welcome", "check.hands")
    if "raffle" in kinds:
        yield _Draft("before", 3, "desk", "check.raffle_tickets")
        yield _Draft("after", 0, "desk", "check.raffle_prizes")
    if any(item.power for item in state.side.values()):
        yield _Draft("morning", 0, "floor", "check.cables")
    if state.safety.alcohol:
        yield _Draft("before", 42, "director", "check.alcohol_ask")


def _money(state: State) -> Iterator[_Draft]:
    tills = (
        [place.name for place in state.budget.places if place.sort == "cash"]
        if (state.budget)
        else []
    )
    if tills:
        facts: dict[str, Fact] = {"names": ", ".join(tills)}
        yield _Draft("before", 2, "desk", "check.floats", facts)
        yield _Draft("morning", 0, "desk", "check.floats_counted", facts)
        yield _Draft("after", 0, "desk", "check.tills", facts)
    yield _Draft("after", -14, "director", "check.statement")


def _whole_day() -> Iterator[_Draft]:
    yield _Draft("morning", 0, "floor", "check.ways_out")
    yield _Draft("morning", 0, "first_aid", "check.defibrillator")
    yield _Draft("morning", 0, "head_judge", "check.briefing")
    yield _Draft("morning", 0, "announcer", "check.sound")
    yield _Draft("during", 0, "floor", "check.ways_out_again")
    yield _Draft("during", 0, "desk", "check.posted")
    yield _Draft("after", 0, "floor", "check.swept")
    yield _Draft("after", 0, "welcome", "check.lost")
    yield _Draft("after", 0, "director", "check.incidents")
