"""Floors, rests, pauses and judges from now on, with the real times of what has begun."""

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import NamedTuple

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.check.repair_rules import RULES
from callroom.planner.day_now import DayNow


class _Real(NamedTuple):
    """A heat as it is run: real times where it has begun, planned ones otherwise [s]."""

    heat: Heat
    start_s: int
    end_s: int
    mix: frozenset[str]
    is_coming: bool


def check_real_times(
    event: Event, teams: Mapping[str, Team], after: Plan, now: DayNow
) -> Iterator[Finding]:
    """Yield what is impossible or broken among the heats to come and what has begun.

    What lies between two heats that have both begun is history and not judged.
    """
    runs = sorted(
        (_real(heat, teams, now) for heat in after.heats),
        key=lambda run: (run.start_s, run.end_s, run.heat.id),
    )
    for floor in event.floors:
        yield from _floor(event, [run for run in runs if run.heat.floor == floor.id])
    days: dict[str, list[_Real]] = {}
    for run in runs:
        for team in run.heat.teams:
            days.setdefault(team, []).append(run)
    for team in teams:
        if team not in now.withdrawn:
            yield from _team(event, team, days.get(team, []))
    yield from _pauses(event, runs)
    yield from _judges(event, runs, now)


def _real(heat: Heat, teams: Mapping[str, Team], now: DayNow) -> _Real:
    mix = frozenset(teams[team].division for team in heat.teams if team in teams)
    length_s = heat.end_s - heat.start_s
    if heat.id in now.over_s:
        end_s = now.over_s[heat.id]
        return _Real(heat, now.begun_s.get(heat.id, end_s - length_s), end_s, mix, is_coming=False)
    if heat.id in now.begun_s:
        start_s = now.begun_s[heat.id]
        return _Real(heat, start_s, max(now.now_s, start_s + length_s), mix, is_coming=False)
    return _Real(heat, heat.start_s, heat.end_s, mix, is_coming=True)


def _floor(event: Event, row: list[_Real]) -> Iterator[Finding]:
    wishes = event.wishes
    holder: _Real | None = None
    for run in row:
        if holder is not None and run.is_coming:
            needed_s = wishes.changeover_same_s
            if holder.heat.workout != run.heat.workout:
                needed_s = wishes.changeover_workout_s
            elif holder.mix != run.mix:
                needed_s = wishes.changeover_division_s
            at, given_s = f"heat.{run.heat.id}", run.start_s - holder.end_s
            if given_s < 0:
                yield RULES.found(
                    "check.repair_floor_doubled",
                    at,
                    heat=run.heat.id,
                    other=holder.heat.id,
                    floor=run.heat.floor,
                )
            elif given_s < needed_s:
                yield RULES.found(
                    "check.repair_changeover_short",
                    at,
                    heat=run.heat.id,
                    before=holder.heat.id,
                    floor=run.heat.floor,
                    given_s=given_s,
                    needed_s=needed_s,
                )
        if holder is None or run.end_s >= holder.end_s:
            holder = run


def _team(event: Event, team: str, day: list[_Real]) -> Iterator[Finding]:
    for one, other in pairwise(day):
        needed_s = event.wishes.rest_between_s(one.heat.workout, other.heat.workout)
        given_s = other.start_s - one.end_s
        if other.is_coming and given_s < needed_s:
            yield RULES.found(
                "check.repair_rest_short",
                f"team.{team}",
                team=team,
                before=one.heat.id,
                heat=other.heat.id,
                given_s=given_s,
                needed_s=needed_s,
            )


def _pauses(event: Event, runs: list[_Real]) -> Iterator[Finding]:
    for run in (run for run in runs if run.is_coming):
        for pause in event.wishes.pauses:
            here = not pause.floors or run.heat.floor in pause.floors
            end_s = pause.start_s + pause.length_s
            if here and run.start_s < end_s and pause.start_s < run.end_s:
                at = f"heat.{run.heat.id}"
                yield RULES.found(
                    "check.repair_pause_broken", at, heat=run.heat.id, pause=pause.name
                )


def _judges(event: Event, runs: list[_Real], now: DayNow) -> Iterator[Finding]:
    wished = None if event.wishes.judge_spells else event.wishes.judges_at_once
    limit = wished if now.judges_at_once is None else now.judges_at_once
    if limit is None:
        return
    each = {workout.id: workout.judges_per_lane for workout in event.workouts}
    need = {
        run.heat.id: each[run.heat.workout]
        * sum(team not in now.withdrawn for team in run.heat.teams)
        for run in runs
    }
    for run in (run for run in runs if run.is_coming):
        at_work = [o for o in runs if o.start_s <= run.start_s < o.end_s]
        needed = sum(need[other.heat.id] for other in at_work)
        if needed > limit:
            yield RULES.found(
                "check.repair_judges_short",
                f"heat.{run.heat.id}",
                heat=run.heat.id,
                start_at_s=run.start_s,
                needed=needed,
                limit=limit,
            )
