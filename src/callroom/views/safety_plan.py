"""The safety plan: what the event's own content and the venue's facts give rise to.

It is a start. Local codes, the fire authority, the insurer and licensed practitioners decide.
"""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Literal, get_args

import msgspec

from callroom.model import Event, Fact, Finding, State, Workout
from callroom.model.finding import Severity
from callroom.model.movement import Movement
from callroom.model.safety import SafetyFacts
from callroom.safety import (
    exits_needed,
    first_aiders_needed,
    persons_for,
    persons_out,
    rate_holds,
    seeking_help,
    shock_after_s,
)
from callroom.safety.crowd import DOORS_SWING_OUT_FROM
from callroom.safety.first_aid import COLLAPSE_TO_SHOCK_S
from callroom.safety.heat import MOST_WATER_ML_AN_HOUR, heat_limits_c10
from callroom.safety.weather import LIGHTNING_WAIT_MIN, STOP_FROM_M_S, STRUCTURES_FROM_M_S

SectionId = Literal["cover", "emergency", "crowd", "weather", "kit", "people", "stop"]
Post = Literal["lead", "floor", "judge", "first_aid", "door", "desk"]
POSTS: tuple[Post, ...] = get_args(Post)

_OVERHEAD_KIT = frozenset({"pull_up_bar", "rings", "climbing_rope"})
_OPEN: Severity = "warning"


class SafetySection(msgspec.Struct, frozen=True, kw_only=True):
    """One subject of the plan; a point of severity ``warning`` is open or beyond a limit."""

    id: SectionId
    points: tuple[Finding, ...]


class SafetyPlan(msgspec.Struct, frozen=True, kw_only=True):
    """The plan of an event; `facts_seq` is the entry its facts come from, 0: nothing said yet."""

    sections: tuple[SafetySection, ...]
    facts_seq: int

    @property
    def open_points(self) -> tuple[Finding, ...]:
        """What must be settled before the day."""
        return tuple(
            point
            for section in self.sections
            for point in section.points
            if point.severity == _OPEN
        )


# Which posts have a point on their page, beside the lead, who has all.
_AT_POSTS: Mapping[str, tuple[Post, ...]] = MappingProxyType(
    {
        "safety.first_aiders": ("first_aid",),
        "safety.first_aiders_few": ("first_aid",),
        "safety.help": ("first_aid",),
        "safety.first_aid_place": ("floor", "judge", "door", "desk"),
        "safety.aed": ("floor", "judge", "first_aid", "door", "desk"),
        "safety.aed_walk": ("first_aid",),
        "safety.aed_far": ("first_aid",),
        "safety.call": ("floor", "judge", "first_aid", "door", "desk"),
        "safety.ambulance": ("floor", "first_aid", "door", "desk"),
        "safety.one_leads": ("floor", "judge", "first_aid"),
        "safety.time_out": ("floor", "first_aid"),
        "safety.clear": ("floor", "judge", "first_aid", "door", "desk"),
        "safety.area": ("door",),
        "safety.crowd_total": ("door",),
        "safety.crowd_full": ("door",),
        "safety.exits": ("door", "floor"),
        "safety.exits_few": ("door",),
        "safety.walkways": ("door", "floor", "judge"),
        "safety.readings": ("floor", "first_aid"),
        "safety.heat_limits": ("floor", "judge", "first_aid"),
        "safety.water": ("floor", "first_aid"),
        "safety.thunder": ("floor", "judge", "door", "desk"),
        "safety.wind": ("floor", "door"),
        "safety.wet": ("floor",),
        "safety.kit_check": ("floor", "judge"),
        "safety.loads": ("floor", "judge"),
        "safety.caution": ("floor", "judge", "first_aid"),
        "safety.rig": ("floor",),
        "safety.minors": ("judge", "first_aid", "desk"),
        "safety.alcohol": ("door", "desk"),
        "safety.lost_child": ("floor", "judge", "door", "desk"),
        "safety.stop": ("floor", "judge", "first_aid", "door", "desk"),
        "safety.stop_athlete": ("floor", "judge", "first_aid"),
        "safety.incident": ("floor", "judge", "first_aid", "door", "desk"),
        "safety.authority": ("floor", "judge", "first_aid", "door", "desk"),
    }
)


def safety_plan(state: State, event: Event, movements: Mapping[str, Movement]) -> SafetyPlan:
    """Return the plan for an event; `movements` are the library's and its own, by id."""
    facts = state.safety
    persons = persons_expected(state)
    made: dict[SectionId, Iterator[Finding]] = {
        "emergency": _emergency(facts),
        "stop": _stop(),
        "cover": _cover(facts, persons),
        "crowd": _crowd(facts, persons),
        "weather": _weather(facts, event),
        "people": _people(facts),
        "kit": _kit(event, movements),
    }
    return SafetyPlan(
        sections=tuple(
            SafetySection(id=name, points=tuple(points)) for name, points in made.items()
        ),
        facts_seq=state.subjects.get("safety", 0),
    )


def for_post(plan: SafetyPlan, post: Post) -> SafetyPlan:
    """Return what stands on the page of a post; the lead has all of it."""
    if post == "lead":
        return plan
    kept = [
        msgspec.structs.replace(
            section,
            points=tuple(
                point for point in section.points if post in _AT_POSTS.get(point.rule, ())
            ),
        )
        for section in plan.sections
    ]
    return msgspec.structs.replace(
        plan, sections=tuple(section for section in kept if section.points)
    )


def persons_expected(state: State) -> int:
    """Return how many people are expected at once: athletes, crew, and the spectators named."""
    athletes = sum(
        len(team.athletes) for id_, team in state.teams.items() if id_ not in state.team_status
    )
    return athletes + len(state.crew) + (state.safety.spectators or 0)


def _say(rule: str, **facts: Fact) -> Finding:
    return Finding(rule=f"safety.{rule}", severity="note", subject="safety", facts=facts)


def _open(rule: str, **facts: Fact) -> Finding:
    return Finding(rule=f"safety.{rule}", severity=_OPEN, subject="safety", facts=facts)


def _said(rule: str, text: str, **facts: Fact) -> Finding:
    """Return the point if the director has said what it needs, else that it is open."""
    return _say(rule, **facts) if text.strip() else _open(f"{rule}_open")


def _cover(facts: SafetyFacts, persons: int) -> Iterator[Finding]:
    needed, have = first_aiders_needed(persons), facts.first_aiders
    if have < needed:
        yield _open("first_aiders_few", needed=needed, persons=persons, have=have)
    else:
        yield _say("first_aiders", needed=needed, persons=persons, have=have)
    if not rate_holds(persons):
        yield _open("provider", persons=persons)
    low, high = seeking_help(persons)
    yield _say("help", low=low, high=high)
    yield _said("first_aid_place", facts.first_aid_place, place=facts.first_aid_place)
    yield _said("aed", facts.aed_place, place=facts.aed_place)
    if facts.aed_walk_s is None:
        yield _open("aed_walk_open", limit_s=COLLAPSE_TO_SHOCK_S)
    elif (shock_s := shock_after_s(facts.aed_walk_s)) > COLLAPSE_TO_SHOCK_S:
        yield _open("aed_far", shock_s=shock_s, limit_s=COLLAPSE_TO_SHOCK_S)
    else:
        yield _say("aed_walk", shock_s=shock_s, walk_s=facts.aed_walk_s)


def _emergency(facts: SafetyFacts) -> Iterator[Finding]:
    yield _said("call", facts.emergency_number, number=facts.emergency_number)
    yield _said("ambulance", facts.ambulance_entry, place=facts.ambulance_entry)
    yield _say("one_leads")
    yield _say("time_out")
    both = facts.alarm.strip() and facts.assembly_point.strip()
    yield _said("clear", both, alarm=facts.alarm, place=facts.assembly_point)


def _crowd(facts: SafetyFacts, persons: int) -> Iterator[Finding]:
    if facts.spectators is None:
        yield _open("crowd_open")
    holds = 0
    for area in facts.areas:
        fits = persons_for(area.area_m2, area.use)
        holds += fits
        yield _say("area", name=area.name, persons=fits, area_m2=area.area_m2, use=area.use)
    if not facts.areas:
        yield _open("areas_open")
    elif persons > holds:
        yield _open("crowd_full", expected=persons, holds=holds)
    else:
        yield _say("crowd_total", expected=persons, holds=holds)
    out = persons_out(facts.exits, sprinklered=facts.sprinklered)
    count = len(facts.exits)
    if not facts.exits:
        yield _open("exits_open")
    elif out < persons or count < exits_needed(persons):
        yield _open("exits_few", count=count, out=out, expected=persons)
    else:
        yield _say("exits", count=count, out=out)
    if persons >= DOORS_SWING_OUT_FROM:
        yield _say("doors", least=DOORS_SWING_OUT_FROM)
    yield _say("walkways")


def _weather(facts: SafetyFacts, event: Event) -> Iterator[Finding]:
    outdoor = {floor.id: floor.name for floor in event.floors if floor.outdoor}
    for name in outdoor.values():
        yield _say("readings", floor=name)
    watch, limit, stop = heat_limits_c10(used_to_heat=facts.used_to_heat, children=facts.minors)
    yield _say(
        "heat_limits",
        watch_c=_tenths(watch),
        limit_c=_tenths(limit),
        stop_c=_tenths(stop),
    )
    yield _say("water", most_ml=MOST_WATER_ML_AN_HOUR)
    if not outdoor:
        return
    yield _said("thunder", facts.shelter, place=facts.shelter, wait_min=LIGHTNING_WAIT_MIN)
    yield _say("wind", structures=STRUCTURES_FROM_M_S, stop=STOP_FROM_M_S)
    wet = ", ".join(workout.name for workout in event.workouts if workout.floor in outdoor)
    if wet:
        yield (
            _say("wet", workout=wet, what=facts.wet_ground)
            if facts.wet_ground.strip()
            else _open("wet_open", workout=wet)
        )


def _kit(event: Event, movements: Mapping[str, Movement]) -> Iterator[Finding]:
    yield _say("kit_check")
    where: dict[str, list[str]] = {}
    for workout in event.workouts:
        used = _movements_of(workout, movements)
        if any(need.item == "barbell" for one in used for need in one.kit):
            yield _say("loads", workout=workout.name)
        for one in used:
            where.setdefault(one.id, []).append(workout.name)
    for id_, workouts in where.items():
        one = movements[id_]
        for caution in one.cautions:
            yield _say("caution", workout=", ".join(workouts), movement=one.name, caution=caution)
    if any(need.item in _OVERHEAD_KIT for id_ in where for need in movements[id_].kit):
        yield _say("rig")


def _movements_of(workout: Workout, movements: Mapping[str, Movement]) -> list[Movement]:
    ids = dict.fromkeys(
        task.movement for part in workout.parts for block in part.blocks for task in block.tasks
    )
    return [movements[id_] for id_ in ids if id_ in movements]


def _people(facts: SafetyFacts) -> Iterator[Finding]:
    if facts.minors:
        yield _say("minors")
    if facts.alcohol:
        yield _say("alcohol")
    yield _said("lost_child", facts.lost_children_place, place=facts.lost_children_place)


def _stop() -> Iterator[Finding]:
    yield _say("stop")
    yield _say("stop_athlete")
    yield _say("incident")
    yield _say("authority")


def _tenths(value: int) -> str:
    return f"{value / 10:.1f}"
