"""Rules of single heats and teams: locks, a team's hours, teams that must not meet."""

from collections.abc import Iterator, Mapping

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.model.wish_rows import Lock
from callroom.planner.check.rules import RULES

Teams = Mapping[str, Team]


def check_particular(event: Event, teams: Teams, plan: Plan) -> Iterator[Finding]:
    """Yield where a plan is not as wished of single heats and teams."""
    yield from _named(event, teams)
    for number, lock in enumerate(event.wishes.locks, start=1):
        if not lock.team or lock.team in teams:
            yield from _locked(event, teams, plan, lock, number)
    yield from _hours(event, plan)
    yield from _apart(event, plan)


def _named(event: Event, teams: Teams) -> Iterator[Finding]:
    wishes = event.wishes
    named = [lock.team for lock in wishes.locks if lock.team]
    named += [hours.team for hours in wishes.team_hours]
    named += [team for apart in wishes.apart for team in apart.teams]
    for team in dict.fromkeys(named):
        if team not in teams:
            yield RULES.found("check.wish_names_no_team", "wishes", team=team)


def _locked(event: Event, teams: Teams, plan: Plan, lock: Lock, number: int) -> Iterator[Finding]:
    """One lock, in every workout it is about."""
    found = False
    for workout in [lock.workout] if lock.workout else [w.id for w in event.workouts]:
        division = teams[lock.team].division if lock.team else lock.division
        row = _row(teams, plan, workout, division)
        own = [heat for heat in row if lock.team in heat.teams] if lock.team else []
        if lock.team:
            heat = own[0] if own else None
        else:
            heat = row[lock.heat - 1] if 0 < lock.heat <= len(row) else None
        if heat is None:
            continue
        found = True
        yield from _heat_as_locked(lock, heat)
        if lock.team:
            yield from _team_as_locked(lock, heat, row)
    if not found:
        yield RULES.found("check.lock_without_heat", "wishes", number=number)


def _heat_as_locked(lock: Lock, heat: Heat) -> Iterator[Finding]:
    at = f"heat.{heat.id}"
    if lock.at_s is not None and heat.start_s != lock.at_s:
        yield RULES.found(
            "check.lock_time", at, heat=heat.id, start_at_s=heat.start_s, wanted_at_s=lock.at_s
        )
    if lock.floor and heat.floor != lock.floor:
        yield RULES.found("check.lock_floor", at, heat=heat.id, floor=heat.floor, wanted=lock.floor)


def _team_as_locked(lock: Lock, heat: Heat, row: list[Heat]) -> Iterator[Finding]:
    at = f"team.{lock.team}"
    place = [one.id for one in row].index(heat.id) + 1
    if lock.heat and place != lock.heat:
        yield RULES.found(
            "check.lock_heat",
            at,
            team=lock.team,
            workout=heat.workout,
            heat=place,
            wanted=lock.heat,
        )
    lane = heat.lane_of(lock.team)
    if lock.lane is not None and lane != lock.lane:
        yield RULES.found(
            "check.lock_lane", at, team=lock.team, heat=heat.id, lane=lane, wanted=lock.lane
        )


def _row(teams: Teams, plan: Plan, workout: str, division: str) -> list[Heat]:
    """Return a division's heats of a workout in the order they are run."""
    mine = {team.id for team in teams.values() if team.division == division}
    row = [h for h in plan.heats if h.workout == workout and mine & set(h.teams)]
    return sorted(row, key=lambda heat: (heat.start_s, heat.number))


def _hours(event: Event, plan: Plan) -> Iterator[Finding]:
    for hours in event.wishes.team_hours:
        for heat in (heat for heat in plan.heats if hours.team in heat.teams):
            at = f"team.{hours.team}"
            if hours.from_s is not None and heat.start_s < hours.from_s:
                yield RULES.found(
                    "check.team_too_early",
                    at,
                    team=hours.team,
                    heat=heat.id,
                    start_at_s=heat.start_s,
                    from_at_s=hours.from_s,
                )
            if hours.until_s is not None and heat.end_s > hours.until_s:
                yield RULES.found(
                    "check.team_too_late",
                    at,
                    team=hours.team,
                    heat=heat.id,
                    end_at_s=heat.end_s,
                    until_at_s=hours.until_s,
                )


def _apart(event: Event, plan: Plan) -> Iterator[Finding]:
    for apart in event.wishes.apart:
        for place, one in enumerate(apart.teams):
            for other in apart.teams[place + 1 :]:
                yield from _met(plan, one, other, apart.gap_s)


def _met(plan: Plan, one: str, other: str, needed_s: int) -> Iterator[Finding]:
    for heat in (heat for heat in plan.heats if one in heat.teams):
        for then in (heat for heat in plan.heats if other in heat.teams):
            gap_s = max(then.start_s - heat.end_s, heat.start_s - then.end_s)
            if heat.id == then.id or gap_s < needed_s:
                yield RULES.found(
                    "check.not_apart",
                    f"heat.{then.id}",
                    team=one,
                    other=other,
                    heat=then.id,
                    gap_s=max(gap_s, 0),
                    needed_s=needed_s,
                )
