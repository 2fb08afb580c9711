"""Wishes that the published plan keeps and the repaired one breaks, as the day is really run."""

from collections.abc import Iterable, Iterator, Mapping
from functools import partial

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.check.plan import check_plan
from callroom.planner.day_now import DayNow

HELD = frozenset(
    f"check.{name}"
    for name in (
        "before_release",
        "briefings_overlap",
        "final_not_last",
        "judges_short",
        "kit_short",
        "lock_floor",
        "lock_heat",
        "lock_lane",
        "lock_time",
        "mixed_heat",
        "no_time_to_warm_up",
        "not_apart",
        "outside_days",
        "rest_not_promised",
        "team_too_early",
        "team_too_late",
        "thin_heat",
        "too_late",
        "warm_ups_crowded",
        "wave_overlapped",
        "workouts_out_of_order",
        "wrong_day",
    )
)
"""The wishes that hold on the day as well; clean starts, an even rhythm and who is in the last heat
end with the first delay or loss.

Changeovers, rests and pauses are judged in ``repair_times``, with the judges that are left; those
counted by the hour are judged here.
"""
ENDS = frozenset({"check.too_late", "check.outside_days"})
SAYS = ("team", "other", "heat", "before", "workout", "division", "kit", "number")
"""The facts that say of what a finding is; the others say by how much."""

Key = tuple[str, ...]


def check_wishes(
    event: Event,
    teams: Mapping[str, Team],
    before: Plan,
    after: Plan,
    now: DayNow,
    *,
    held: frozenset[str] = HELD,
) -> Iterator[Finding]:
    """Yield each wish of those `held` that the heats to come break and was kept before.

    A wish broken by what has begun is history; one that the published plan broke was known.
    """
    if not event.wishes.judge_spells:
        held = held - {"check.judges_short"}  # judged with the judges that are left
    judge = partial(_broken, event, teams, now, held)
    found = {_key(one): one for one in judge(_as_run(after, now))}
    if not found:
        return
    begun = tuple(heat for heat in after.heats if now.touched(heat.id))
    was, over = judge(before), judge(_as_run(replace(after, heats=begun), now))
    known = {_key(one) for one in (*was, *over)}
    new = (
        one for key, one in found.items() if key not in known and not _is_history(one, after, now)
    )
    yield from _worst(new)


def _is_history(finding: Finding, after: Plan, now: DayNow) -> bool:
    """Whether it is of two heats that have both begun."""
    heats = {heat.id for heat in after.heats} & set(map(str, finding.facts.values()))
    return len(heats) > 1 and all(map(now.touched, heats))


def _worst(found: Iterable[Finding]) -> Iterator[Finding]:
    """Yield the findings; of heats that end too late only the last, which says it all."""
    last: dict[str, Finding] = {}
    for one in found:
        if one.rule not in ENDS:
            yield one
        elif one.rule not in last or _ends_s(last[one.rule]) < _ends_s(one):
            last[one.rule] = one
    yield from last.values()


def _ends_s(finding: Finding) -> int:
    end_s = finding.facts["end_at_s"]
    return end_s if isinstance(end_s, int) else 0


def _broken(
    event: Event, teams: Mapping[str, Team], now: DayNow, held: frozenset[str], plan: Plan
) -> tuple[Finding, ...]:
    """Return what the check says of a plan without those who have withdrawn."""
    there = tuple(team for team in teams.values() if team.id not in now.withdrawn)
    competing = {team.id for team in there}
    heats = (
        replace(heat, lanes=tuple(place for place in heat.lanes if place.team in competing))
        for heat in plan.heats
    )
    left = replace(plan, heats=tuple(heat for heat in heats if heat.lanes))
    return tuple(one for one in check_plan(event, there, left) if one.rule in held)


def _as_run(plan: Plan, now: DayNow) -> Plan:
    """Return a plan with the real times of what has begun."""
    return replace(plan, heats=tuple(_real(heat, now) for heat in plan.heats))


def _real(heat: Heat, now: DayNow) -> Heat:
    length_s = heat.end_s - heat.start_s
    if heat.id in now.over_s:
        end_s = now.over_s[heat.id]
        return replace(heat, start_s=now.begun_s.get(heat.id, end_s - length_s), end_s=end_s)
    if heat.id in now.begun_s:
        start_s = now.begun_s[heat.id]
        return replace(heat, start_s=start_s, end_s=max(now.now_s, start_s + length_s))
    return heat


def _key(finding: Finding) -> Key:
    facts = finding.facts
    return (finding.rule, finding.subject, *(str(facts[name]) for name in SAYS if name in facts))
