"""A repair held against the day as it stands, worked out again from the two plans alone."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.check.repair_rules import RULES
from callroom.planner.check.repair_times import check_real_times
from callroom.planner.check.repair_wishes import check_wishes
from callroom.planner.day_now import DayNow, Notice


def check_repair(
    event: Event,
    teams: Iterable[Team],
    before: Plan,
    after: Plan,
    *,
    now: DayNow,
    notices: Sequence[Notice],
) -> tuple[Finding, ...]:
    """Return everything in which a repair is impossible, breaks a promise or keeps silent.

    A wish is told as broken only where the published plan keeps it.

    Parameters
    ----------
    event, teams
        What the plan must keep to; every entered team.
    before, after
        The published plan and the repaired one.
    now
        How the day stands.
    notices
        Who is told what.
    """
    known = {team.id: team for team in teams}
    return (
        *_rewritten(before, after, now),
        *_usable(event, after, now),
        *_promised(before, after, now),
        *_everybody(event, known, before, after, now),
        *_told(before, after, now, notices),
        *check_real_times(event, known, after, now),
        *check_wishes(event, known, before, after, now),
    )


def _rewritten(before: Plan, after: Plan, now: DayNow) -> Iterator[Finding]:
    """What has begun stays as it was, and a changed plan has the next revision."""
    new = {heat.id: heat for heat in after.heats}
    for heat in before.heats:
        if now.touched(heat.id) and new.get(heat.id) != heat:
            yield RULES.found("check.repair_rewrites", f"heat.{heat.id}", heat=heat.id)
    changed = {h.id: h for h in before.heats} != new
    if after.revision != before.revision + changed:
        yield RULES.found(
            "check.repair_revision", "plan", revision=after.revision, before=before.revision
        )


def _usable(event: Event, after: Plan, now: DayNow) -> Iterator[Finding]:
    """Nothing to come is in the past, or on what is lost."""
    for heat in after.heats:
        if now.touched(heat.id):
            continue
        at, mine = f"heat.{heat.id}", [p for p in heat.lanes if p.team not in now.withdrawn]
        if heat.start_s < now.now_s:
            yield RULES.found(
                "check.repair_in_the_past",
                at,
                heat=heat.id,
                start_at_s=heat.start_s,
                now_at_s=now.now_s,
            )
        if heat.floor in now.lost_floors:
            yield RULES.found("check.repair_lost_floor", at, heat=heat.id, floor=heat.floor)
        ready_s = now.ready_s.get(heat.floor, 0)
        if heat.start_s < ready_s:
            yield RULES.found(
                "check.repair_not_ready",
                at,
                heat=heat.id,
                floor=heat.floor,
                start_at_s=heat.start_s,
                ready_at_s=ready_s,
            )
        painted = event.floor(heat.floor).lane_numbers
        for place in mine:
            if place.lane in now.lost_on(heat.floor) or place.lane not in painted:
                yield RULES.found(
                    "check.repair_lost_lane", at, heat=heat.id, lane=place.lane, floor=heat.floor
                )
        kit = now.kit_lanes.get(heat.workout)
        if kit is not None and len(mine) > kit:
            yield RULES.found(
                "check.repair_no_kit",
                at,
                heat=heat.id,
                workout=heat.workout,
                lanes=len(mine),
                kit=kit,
            )


def _promised(before: Plan, after: Plan, now: DayNow) -> Iterator[Finding]:
    """No team starts a workout earlier than it was told, unless its whole heat is present."""
    told = {(heat.workout, team): heat.start_s for heat in before.heats for team in heat.teams}
    for heat in after.heats:
        waiting = set(heat.teams) - set(now.withdrawn) - set(now.present)
        for team in sorted(waiting):
            told_s = told.get((heat.workout, team))
            if not now.touched(heat.id) and told_s is not None and heat.start_s < told_s:
                yield RULES.found(
                    "check.repair_too_early",
                    f"team.{team}",
                    team=team,
                    heat=heat.id,
                    start_at_s=heat.start_s,
                    told_at_s=told_s,
                )


def _everybody(
    event: Event, known: Mapping[str, Team], before: Plan, after: Plan, now: DayNow
) -> Iterator[Finding]:
    """Who had a heat of a workout has exactly one still."""
    for workout in event.workouts:
        had = {t for h in before.heats if h.workout == workout.id for t in h.teams}
        has = [t for h in after.heats if h.workout == workout.id for t in h.teams]
        for team in known:
            gone = team in now.withdrawn and not has.count(team)
            if team in had and has.count(team) != 1 and not gone:
                yield RULES.found(
                    "check.repair_team_lost", f"team.{team}", team=team, workout=workout.id
                )


def _told(before: Plan, after: Plan, now: DayNow, notices: Sequence[Notice]) -> Iterator[Finding]:
    """Everybody for whom something changes is told, and nobody else."""
    was = {(heat.workout, team): _place(heat, team) for heat in before.heats for team in heat.teams}
    changed = {
        (team, heat.id)
        for heat in after.heats
        for team in heat.teams
        if team not in now.withdrawn
        and not now.touched(heat.id)
        and was.get((heat.workout, team)) != _place(heat, team)
    }
    told = {(team, notice.heat) for notice in notices for team in notice.teams}
    for team, heat in sorted(changed - told):
        yield RULES.found("check.repair_not_told", f"team.{team}", team=team, heat=heat)
    for team, heat in sorted(told - changed):
        yield RULES.found("check.repair_told_for_nothing", f"team.{team}", team=team, heat=heat)


def _place(heat: Heat, team: str) -> tuple[str, str, int, int | None]:
    return heat.id, heat.floor, heat.start_s, heat.lane_of(team)
