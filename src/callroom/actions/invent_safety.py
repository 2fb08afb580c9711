"""Invented safety for a rehearsal: a venue, readings of the weather, something that happens.

All of it is made up, and a real venue must be looked at: the plan of a rehearsal says so of
itself. It is there so that first aid and the floor manager practise reading and writing it down.
"""

import random

from callroom.actions.cue import Cue
from callroom.actions.request import Request
from callroom.actions.safety import follow_incident, note_incident, read_weather, set_facts
from callroom.model import Event, Heat, Plan, Role, State, milliseconds
from callroom.model.safety import Area, Exit, SafetyFacts, Weather

INCIDENT_RECORDS: tuple[tuple[str, str], ...] = (
    ("invented-1", "A grazed shin at the box. Cleaned and covered; goes on. (Invented.)"),
    ("invented-2", "Looked at again an hour later: nothing more to do. (Invented.)"),
)
"""What was written of the injury, by the keys of its two steps; kept beside the journal."""

_INJURY, _LATER = (f"incident/{key}" for key, _ in INCIDENT_RECORDS)
_READ_EVERY_MS = 2 * 3_600_000
_LOOKED_AGAIN_MS = 45 * 60_000
_MORNING_C10, _RISE_C10, _MOST_C10 = 160, 35, 290


def safety_cues(
    state: State, event: Event, plan: Plan, seed: int, *, smooth: bool
) -> tuple[Cue, ...]:
    """Return what is said of safety on the rest of a planned day; `smooth`: nothing happens.

    The venue is invented only where the director has said nothing of the real one.
    """
    cues: list[Cue] = []
    if state.safety == SafetyFacts():
        at_ms = milliseconds(event.starts_at)
        cues.append(_cue(at_ms, "director", "director", set_facts(invented_facts(event))))
    heats = sorted(plan.heats, key=lambda heat: (heat.start_s, heat.id))
    to_come = [heat for heat in heats if state.heat_run(heat.id).started_ms is None]
    if to_come:
        cues += _readings(event, to_come, seed)
        if not smooth:
            cues += _happenings(state, event, to_come[len(to_come) // 2])
    return tuple(cues)


def invented_facts(event: Event) -> SafetyFacts:
    """Return a venue for practice; two things are left to be settled."""
    indoors = tuple(
        Area(name=floor.name, use="exercise", area_m2=30 * floor.lanes)
        for floor in event.floors
        if not floor.outdoor
    )
    return SafetyFacts(
        areas=(*indoors, Area(name="Seats (invented)", use="chairs", area_m2=120)),
        exits=(
            Exit(name="Front door (invented)", width_mm=1800),
            Exit(name="Loading door (invented)", width_mm=2400),
        ),
        spectators=160,
        first_aiders=3,
        first_aid_place="the table by the front door (invented)",
        aed_place="the wall beside the first aid table (invented)",
        aed_walk_s=40,
        emergency_number="practice only: write yours here",
        ambulance_entry="the loading door; the floor manager opens it (invented)",
        assembly_point="the grass across the road (invented)",
        shelter="the hall itself (invented)",
        lost_children_place="the desk (invented)",
    )


def _readings(event: Event, heats: list[Heat], seed: int) -> list[Cue]:
    """Return a reading of each outdoor floor, or of the first floor, every two hours."""
    floors = [floor for floor in event.floors if floor.outdoor] or list(event.floors[:1])
    first_ms = milliseconds(event.instant(heats[0].start_s))
    last_ms = milliseconds(event.instant(heats[-1].end_s))
    rng = random.Random(f"{seed}/weather")  # noqa: S311 - invented, no secret
    cues = []
    for step, at_ms in enumerate(range(first_ms, last_ms, _READ_EVERY_MS)):
        for floor in floors:
            air_c10 = min(_MORNING_C10 + step * _RISE_C10, _MOST_C10) + rng.randrange(10)
            weather = Weather(
                floor=floor.id,
                at_ms=at_ms,
                air_c10=air_c10,
                humidity_percent=68 - 4 * min(step, 6),
                wet_bulb_c10=air_c10 - 35,
                globe_c10=air_c10 + (60 if floor.outdoor else 0),
                gust_m_s10=20 + rng.randrange(30),
            )
            cues.append(_cue(at_ms, "crew", "floor", read_weather(weather)))
    return cues


def _happenings(state: State, event: Event, heat: Heat) -> list[Cue]:
    """Return a small injury in a heat, looked at again later, and a near miss with the kit."""
    floor, number = event.floor(heat.floor), 1 + len(state.incidents)
    hurt_ms = milliseconds(event.instant(heat.end_s)) - 120_000
    place = f"{floor.name}, lane {heat.lanes[0].lane}"
    hurt = note_incident(hurt_ms, "injury", place, heat=heat.id, first_aid=True, record=_INJURY)
    over = follow_incident(number, record=_LATER, closes=True)
    near = note_incident(hurt_ms + 300_000, "near_miss", f"{floor.name}, the walkway")
    return [
        _cue(hurt_ms + 180_000, "first_aid", "first_aid", hurt),
        _cue(hurt_ms + 400_000, "crew", "floor", near),
        _cue(hurt_ms + _LOOKED_AGAIN_MS, "first_aid", "first_aid", over),
    ]


def _cue(at_ms: int, role: Role, post: str, request: Request) -> Cue:
    return Cue(at_ms=at_ms, role=role, post=post, request=request)
