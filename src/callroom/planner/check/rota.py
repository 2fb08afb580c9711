"""A rota held against the event, its plan and its crew."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise

from callroom.model.crew import CrewMember
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.rota import Rota, RotaRules, Shift
from callroom.model.team import Team
from callroom.planner.check.rota_rules import RULES

Crew = Mapping[str, CrewMember]
Days = Mapping[str, list[Shift]]


def check_rota(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    crew: Iterable[CrewMember],
    *,
    rota: Rota,
    rules: RotaRules | None = None,
) -> tuple[Finding, ...]:
    """Return everything in which a rota is impossible, breaks a wish, or is worth knowing.

    Parameters
    ----------
    event, teams, plan
        The planned day; `teams` are those still in it.
    crew, rota, rules
        The volunteers, who does what, and what it should keep to.

    Returns
    -------
    tuple of Finding
        ``error``: cannot be worked so (two places at once, the own team judged, someone who
        is not there). ``warning``: a wish broken, a lane open. ``note``: worth knowing.
    """
    rules = rules or RotaRules()
    known = {member.person: member for member in crew}
    entered = {team.id: team for team in teams}
    heats = {heat.id: heat for heat in plan.heats}
    shifts = {shift.id: shift for shift in rota.shifts}
    days: dict[str, list[Shift]] = {}
    for duty in rota.duties:
        if duty.shift in shifts and duty.person in known:
            days.setdefault(duty.person, []).append(shifts[duty.shift])
    for day in days.values():
        day.sort(key=lambda shift: (shift.start_s, shift.end_s, shift.id))
    return (
        *_duties(rota, shifts, known, plan),
        *_needed(event, entered, plan, rota),
        *(found for name, day in days.items() for found in _day(known[name], day, rules)),
        *(
            found
            for name, day in days.items()
            for found in _conflicts(known[name], day, event, entered, heats=heats, rules=rules)
        ),
        *_own_gym(known, days, entered, heats),
        *_beside(known, rota, shifts),
        *_owed(known, days, rules),
    )


def _duties(rota: Rota, shifts: Mapping[str, Shift], crew: Crew, plan: Plan) -> Iterator[Finding]:
    """Yield duties that name nothing, and shifts held twice."""
    if rota.plan_revision != plan.revision:
        yield RULES.found(
            "check.rota_other_revision", "rota", said=rota.plan_revision, revision=plan.revision
        )
    for shift, times in Counter(duty.shift for duty in rota.duties).items():
        if times > 1:
            at = f"shift.{shift}"
            yield RULES.found("check.rota_shift_doubled", at, shift=shift, people=times)
    for duty in rota.duties:
        at = f"shift.{duty.shift}"
        if duty.shift not in shifts:
            yield RULES.found("check.rota_shift_unknown", at, shift=duty.shift)
        if duty.person not in crew:
            yield RULES.found("check.rota_person_unknown", at, shift=duty.shift, person=duty.person)


def _needed(event: Event, teams: Mapping[str, Team], plan: Plan, rota: Rota) -> Iterator[Finding]:
    """Yield every lane without the judges it needs, and every other post nobody holds."""
    held = {duty.shift for duty in rota.duties}
    judged = {
        (shift.heat, shift.lane, shift.seat): shift
        for shift in rota.shifts
        if shift.post == "judge" and shift.id in held
    }
    for heat in plan.heats:
        judges = event.workout(heat.workout).judges_per_lane
        for place in heat.lanes:
            for seat in range(1, judges + 1):
                shift = judged.get((heat.id, place.lane, seat))
                there = shift is not None and (
                    shift.start_s <= heat.start_s and heat.end_s <= shift.end_s
                )
                if place.team in teams and not there:
                    yield RULES.found(
                        "check.rota_lane_open",
                        f"heat.{heat.id}",
                        heat=heat.id,
                        lane=place.lane,
                        seat=seat,
                    )
    for shift in rota.shifts:
        if shift.post != "judge" and shift.id not in held:
            yield RULES.found(
                "check.rota_post_open",
                f"shift.{shift.id}",
                post=shift.post,
                start_at_s=shift.start_s,
                end_at_s=shift.end_s,
            )


def _day(member: CrewMember, day: list[Shift], rules: RotaRules) -> Iterator[Finding]:
    """Yield what is wrong with one person's shifts among themselves."""
    person = member.person
    for shift in day:
        at = f"shift.{shift.id}"
        early = member.free_from_s is not None and shift.start_s < member.free_from_s
        late = member.free_until_s is not None and shift.end_s > member.free_until_s
        if early or late:
            yield RULES.found(
                "check.rota_not_there",
                at,
                person=person,
                shift=shift.id,
                start_at_s=shift.start_s,
                end_at_s=shift.end_s,
            )
        if shift.post not in member.posts:
            yield RULES.found(
                "check.rota_cannot", at, person=person, shift=shift.id, post=shift.post
            )
    busy_until = day[0]
    for before, shift in pairwise(day):
        busy_until = max(busy_until, before, key=lambda one: one.end_s)
        gap_s = shift.start_s - busy_until.end_s
        facts = {"person": person, "shift": shift.id, "other": busy_until.id}
        if gap_s < 0:
            yield RULES.found("check.rota_two_places", f"shift.{shift.id}", **facts)
        elif busy_until.floor != shift.floor and gap_s < rules.move_s:
            yield RULES.found(
                "check.rota_no_time_to_walk",
                f"shift.{shift.id}",
                given_s=gap_s,
                needed_s=rules.move_s,
                **facts,
            )
    yield from _breaks(person, day, rules)


def _breaks(person: str, day: list[Shift], rules: RotaRules) -> Iterator[Finding]:
    """Yield every heat judged beyond the most in a row, on whichever floors."""
    in_a_row, ended_s = 0, None
    for shift in day:
        if ended_s is not None and shift.start_s - ended_s >= rules.break_s:
            in_a_row = 0
        if shift.post == "judge":
            in_a_row += 1
            if in_a_row > rules.most_in_a_row:
                yield RULES.found(
                    "check.rota_no_break",
                    f"shift.{shift.id}",
                    person=person,
                    shift=shift.id,
                    heats=in_a_row,
                    most=rules.most_in_a_row,
                )
        ended_s = shift.end_s if ended_s is None else max(ended_s, shift.end_s)


def _conflicts(
    member: CrewMember,
    day: list[Shift],
    event: Event,
    teams: Mapping[str, Team],
    *,
    heats: Mapping[str, Heat],
    rules: RotaRules,
) -> Iterator[Finding]:
    """Yield duties in the own heat or too close to it, and the own team or family judged."""
    person = member.person
    own = [heat for heat in heats.values() if member.team in teams and member.team in heat.teams]
    for shift in day:
        at = f"shift.{shift.id}"
        for heat in own:
            if shift.start_s < heat.end_s and heat.start_s < shift.end_s:
                yield RULES.found(
                    "check.rota_competing", at, person=person, shift=shift.id, heat=heat.id
                )
            elif (
                shift.start_s < heat.end_s + rules.recover_s
                and heat.start_s - rules.warm_up_s < shift.end_s
            ):
                yield RULES.found(
                    "check.rota_too_close_to_heat", at, person=person, shift=shift.id, heat=heat.id
                )
        judged = heats.get(shift.heat)
        if judged is None or shift.post != "judge":
            continue
        for place in judged.lanes:
            if place.lane == shift.lane and place.team in {member.team, *member.family_in}:
                yield RULES.found(
                    "check.rota_own_team", at, person=person, shift=shift.id, team=place.team
                )
        if judged.workout in rules.experienced_workouts and not member.experienced:
            yield RULES.found(
                "check.rota_not_experienced",
                at,
                person=person,
                shift=shift.id,
                workout=event.workout(judged.workout).id,
            )


def _own_gym(
    crew: Crew, days: Days, teams: Mapping[str, Team], heats: Mapping[str, Heat]
) -> Iterator[Finding]:
    """Yield, for each person, how often they judge a team of their own gym."""
    for person, day in days.items():
        gym = crew[person].gym
        times = sum(
            teams[place.team].gym == gym
            for shift in day
            if shift.post == "judge" and shift.heat in heats
            for place in heats[shift.heat].lanes
            if place.lane == shift.lane and place.team in teams
        )
        if gym and times:
            at = f"crew.{person}"
            yield RULES.found("check.rota_own_gym", at, person=person, gym=gym, times=times)


def _beside(crew: Crew, rota: Rota, shifts: Mapping[str, Shift]) -> Iterator[Finding]:
    """Yield judges without experience who have nobody experienced at either side."""
    rows: dict[str, list[tuple[int, int, str]]] = {}
    for duty in rota.duties:
        shift = shifts.get(duty.shift)
        if shift is not None and shift.post == "judge" and duty.person in crew:
            rows.setdefault(shift.heat, []).append((shift.lane or 0, shift.seat, duty.person))
    for heat, row in rows.items():
        row.sort()
        for place, (lane, _, person) in enumerate(row):
            beside = [*row[max(place - 1, 0) : place], *row[place + 1 : place + 2]]
            if crew[person].experienced or any(crew[name].experienced for _, _, name in beside):
                continue
            yield RULES.found(
                "check.rota_alone", f"heat.{heat}", person=person, heat=heat, lane=lane
            )


def _owed(crew: Crew, days: Days, rules: RotaRules) -> Iterator[Finding]:
    for owing in rules.owing:
        judged = sum(
            shift.post == "judge"
            for person, day in days.items()
            if crew[person].team == owing.team
            for shift in day
        )
        if judged < owing.heats:
            yield RULES.found(
                "check.rota_debt_left",
                f"team.{owing.team}",
                team=owing.team,
                heats=owing.heats,
                judged=judged,
            )
