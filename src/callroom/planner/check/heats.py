"""Rules of who is in which heat and lane."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.floor import Floor
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.model.workout import Workout
from callroom.planner.check.rules import RULES

Teams = Mapping[str, Team]


def check_heats(
    event: Event, teams: Teams, plan: Plan, withdrawn: Collection[str]
) -> Iterator[Finding]:
    """Yield what is wrong with heats, lanes and who stands in them."""
    workouts = {workout.id: workout for workout in event.workouts}
    floors = {floor.id: floor for floor in event.floors}
    for name, times in Counter(heat.id for heat in plan.heats).items():
        if times > 1:
            yield RULES.found("check.heat_named_twice", f"heat.{name}", heat=name, times=times)
    for heat in plan.heats:
        yield from _workout(event, heat, workouts)
        yield from _lanes(heat, floors)
        yield from _members(heat, teams)
        yield from _company(event, heat, teams, floors)
    for workout in event.workouts:
        yield from _once(workout, teams, plan, withdrawn)
        yield from _numbered(workout, plan)
        if _leaders_run_last(event, workout):
            yield from _leaders_last(event, workout, teams, plan)


def _workout(event: Event, heat: Heat, workouts: Mapping[str, Workout]) -> Iterator[Finding]:
    at, workout = f"heat.{heat.id}", workouts.get(heat.workout)
    if workout is None:
        yield RULES.found("check.unknown_workout", at, heat=heat.id, workout=heat.workout)
        return
    if heat.floor not in event.wishes.floors_for(workout.id, workout.floor):
        yield RULES.found(
            "check.other_floor",
            at,
            heat=heat.id,
            floor=heat.floor,
            workout=workout.id,
            wanted=workout.floor,
        )
    length_s, needed_s = heat.end_s - heat.start_s, workout.floor_s
    if 0 < length_s < needed_s:
        yield RULES.found(
            "check.heat_too_short", at, heat=heat.id, given_s=length_s, needed_s=needed_s
        )


def _lanes(heat: Heat, floors: Mapping[str, Floor]) -> Iterator[Finding]:
    at, floor = f"heat.{heat.id}", floors.get(heat.floor)
    for lane, times in Counter(place.lane for place in heat.lanes).items():
        if times > 1:
            yield RULES.found("check.lane_doubled", at, heat=heat.id, lane=lane, teams=times)
        if floor is None:
            continue
        if lane not in floor.lane_numbers:
            yield RULES.found(
                "check.unknown_lane",
                at,
                heat=heat.id,
                lane=lane,
                floor=floor.id,
                first=floor.first_lane,
                last=floor.first_lane + floor.lanes - 1,
            )
        elif lane in floor.held_lanes:
            yield RULES.found("check.held_lane_used", at, heat=heat.id, lane=lane)
    if floor is None:
        yield RULES.found("check.unknown_floor", at, heat=heat.id, floor=heat.floor)


def _members(heat: Heat, teams: Teams) -> Iterator[Finding]:
    at = f"heat.{heat.id}"
    if not heat.lanes:
        yield RULES.found("check.heat_empty", at, heat=heat.id)
    for team in heat.teams:
        if team not in teams:
            yield RULES.found("check.unknown_team", at, heat=heat.id, team=team)


def _company(
    event: Event, heat: Heat, teams: Teams, floors: Mapping[str, Floor]
) -> Iterator[Finding]:
    """Who is in a heat with whom: pure where wished, and not too few."""
    at = f"heat.{heat.id}"
    divisions = sorted({teams[team].division for team in heat.teams if team in teams})
    if len(divisions) > 1 and not event.wishes.mixed_heats:
        yield RULES.found("check.mixed_heat", at, heat=heat.id, divisions=", ".join(divisions))
    least = event.wishes.least_per_heat
    if 0 < len(heat.lanes) < least:
        lanes = len(floors[heat.floor].open_lanes) if heat.floor in floors else 0
        entries = sum(team.division in divisions for team in teams.values())
        # Even in the fewest heats the lanes allow, there are too few to go round.
        unavoidable = lanes > 0 and entries // -(-entries // lanes or -1) < least
        rule = "check.thin_heat_unavoidable" if unavoidable else "check.thin_heat"
        yield RULES.found(rule, at, heat=heat.id, teams=len(heat.lanes), least=least)


def _once(
    workout: Workout, teams: Teams, plan: Plan, withdrawn: Collection[str]
) -> Iterator[Finding]:
    """Every team once in every workout."""
    found = Counter(t for heat in plan.heats if heat.workout == workout.id for t in heat.teams)
    for team in teams:
        at, times = f"team.{team}", found[team]
        if times > 1:
            yield RULES.found("check.team_twice", at, team=team, workout=workout.id, times=times)
        if not times and team not in withdrawn:
            yield RULES.found("check.team_missing", at, team=team, workout=workout.id)


def _numbered(workout: Workout, plan: Plan) -> Iterator[Finding]:
    """Heats of a workout numbered in the order they are run."""
    mine = [heat for heat in plan.heats if heat.workout == workout.id]
    numbers = [heat.number for heat in sorted(mine, key=lambda heat: (heat.start_s, heat.number))]
    if numbers != list(range(1, len(mine) + 1)):
        yield RULES.found("check.numbers_out_of_order", f"workout.{workout.id}", workout=workout.id)


def _leaders_run_last(event: Event, workout: Workout) -> bool:
    """Whether the entry ranking decides who is in the last heat.

    Not where heats run in drawn order, nor where later workouts are seeded anew.
    """
    later = workout.id != event.workouts[0].id
    drawn = event.wishes.heat_pattern == "to_and_fro"
    return not drawn and not (event.wishes.order_into(workout.id) == "reseeded" and later)


def _leaders_last(event: Event, workout: Workout, teams: Teams, plan: Plan) -> Iterator[Finding]:
    """The best-ranked entry of each division in the last of its heats, unless put elsewhere."""
    put = {lock.team for lock in event.wishes.locks if lock.heat}
    for division in event.divisions:
        ranked = {
            team.id: team.entry_rank
            for team in teams.values()
            if team.division == division.id and team.entry_rank is not None
        }
        mine = {team.id for team in teams.values() if team.division == division.id}
        heats = [h for h in plan.heats if h.workout == workout.id and mine & set(h.teams)]
        present = {
            team: rank for team, rank in ranked.items() if any(team in h.teams for h in heats)
        }
        if not present:
            continue
        last = max(heats, key=lambda heat: (heat.start_s, heat.number))
        best = min(present, key=lambda team: (present[team], team))
        if best not in put and not any(present.get(team) == present[best] for team in last.teams):
            yield RULES.found(
                "check.leaders_not_last",
                f"heat.{last.id}",
                heat=last.id,
                workout=workout.id,
                division=division.id,
                team=best,
            )
