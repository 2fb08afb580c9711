"""Rules of days, waves and finals: what comes before what, over all floors."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.check.rules import RULES


def check_days(event: Event, teams: Mapping[str, Team], plan: Plan) -> Iterator[Finding]:
    """Yield what is wrong with the order of the event as a whole."""
    yield from _days(event, plan)
    yield from _waves(event, teams, plan)
    yield from _finals(event, teams, plan)


def final_heats(event: Event, teams: Mapping[str, Team], plan: Plan) -> set[str]:
    """Return the heats that must be finals: each division's last of the last workout."""
    if not event.wishes.finals_last:
        return set()
    found = set()
    for division in event.divisions:
        mine = {team.id for team in teams.values() if team.division == division.id}
        row = [h for h in plan.heats if h.workout == event.workouts[-1].id and mine & set(h.teams)]
        if row:
            found.add(max(row, key=lambda heat: (heat.start_s, heat.number)).id)
    return found


def _days(event: Event, plan: Plan) -> Iterator[Finding]:
    days = event.wishes.days
    for heat in plan.heats if days else ():
        on = [day for day in days if day.opens_s <= heat.start_s and heat.end_s <= day.closes_s]
        if not on:
            yield RULES.found(
                "check.outside_days",
                f"heat.{heat.id}",
                heat=heat.id,
                start_at_s=heat.start_s,
                end_at_s=heat.end_s,
            )
        for day in on:
            if day.workouts and heat.workout not in day.workouts:
                yield RULES.found(
                    "check.wrong_day",
                    f"heat.{heat.id}",
                    heat=heat.id,
                    workout=heat.workout,
                    day=day.name,
                )


def _waves(event: Event, teams: Mapping[str, Team], plan: Plan) -> Iterator[Finding]:
    """A wave begins when the one before is over: on each day of its own, finals apart."""
    best = final_heats(event, teams, plan)
    plan = replace(plan, heats=tuple(heat for heat in plan.heats if heat.id not in best))
    for one, other in pairwise(event.wishes.waves):
        for before, after in _by_day(event, plan, teams, one, other):
            last = max(before, key=lambda heat: heat.end_s)
            for heat in after:
                if heat.start_s < last.end_s:
                    yield RULES.found(
                        "check.wave_overlapped", f"heat.{heat.id}", heat=heat.id, other=last.id
                    )


def _by_day(
    event: Event,
    plan: Plan,
    teams: Mapping[str, Team],
    one: tuple[str, ...],
    other: tuple[str, ...],
) -> Iterator[tuple[list[Heat], list[Heat]]]:
    """Yield the heats of two waves, day by day, where both have some."""
    starts_s = [day.opens_s for day in event.wishes.days] or [0]
    ends_s = [*starts_s[1:], max((heat.end_s for heat in plan.heats), default=0) + 1]
    for start_s, end_s in zip(starts_s, ends_s, strict=True):
        today = [heat for heat in plan.heats if start_s <= heat.start_s < end_s]
        before = [heat for heat in today if _any_of(heat, teams, one)]
        after = [heat for heat in today if _any_of(heat, teams, other)]
        if before and after:
            yield before, after


def _any_of(heat: Heat, teams: Mapping[str, Team], divisions: tuple[str, ...]) -> bool:
    return any(teams[team].division in divisions for team in heat.teams if team in teams)


def _finals(event: Event, teams: Mapping[str, Team], plan: Plan) -> Iterator[Finding]:
    best = final_heats(event, teams, plan)
    rest = [heat for heat in plan.heats if heat.id not in best]
    if not best or not rest:
        return
    last = max(rest, key=lambda heat: heat.end_s)
    for heat in plan.heats:
        if heat.id in best and heat.start_s < last.end_s:
            yield RULES.found(
                "check.final_not_last", f"heat.{heat.id}", heat=heat.id, other=last.id
            )
