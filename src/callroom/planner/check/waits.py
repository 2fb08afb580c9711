"""Waits that nobody should have without knowing of them beforehand."""

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.planner.check.rules import RULES

LONG_S = 4 * 3600
"""A team that waits longer between two heats goes home or goes cold (common practice, no source)."""


class _Wait(NamedTuple):
    """A team between two of its heats on one day, without what pauses of all floors take [s]."""

    wait_s: int
    team: str
    before: Heat
    after: Heat


def check_waits(event: Event, plan: Plan) -> Iterator[Finding]:
    """Yield the longest wait of the event, if it is long, with how many teams wait so."""
    waits = list(_waits(event, plan))
    long = {wait.team for wait in waits if wait.wait_s > LONG_S}
    if not long:
        return
    worst = max(waits, key=lambda wait: (wait.wait_s, wait.team))
    yield RULES.found(
        "check.long_wait",
        f"team.{worst.team}",
        team=worst.team,
        before=worst.before.id,
        heat=worst.after.id,
        wait_s=worst.wait_s,
        teams=len(long),
        long_s=LONG_S,
    )


def _waits(event: Event, plan: Plan) -> Iterator[_Wait]:
    opens_s = [day.opens_s for day in event.wishes.days]
    pauses = [(p.start_s, p.start_s + p.length_s) for p in event.wishes.pauses if not p.floors]
    row: dict[str, list[Heat]] = {}
    for heat in sorted(plan.heats, key=lambda heat: heat.start_s):
        for team in heat.teams:
            row.setdefault(team, []).append(heat)
    for team, day in row.items():
        for before, after in pairwise(day):
            if any(before.start_s < open_s <= after.start_s for open_s in opens_s):
                continue
            from_s, to_s = before.end_s, after.start_s
            off_s = sum(max(0, min(to_s, end) - max(from_s, start)) for start, end in pauses)
            yield _Wait(to_s - from_s - off_s, team, before, after)
