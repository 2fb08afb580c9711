"""What comes of changes by hand: the plan as it stands beside the plan as it was found."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import msgspec

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.prices.measures import longest_waits, spare_lanes


class Effects(msgspec.Struct, frozen=True, kw_only=True):
    """What is different, in figures and in findings.

    Attributes
    ----------
    finish_s, wait_s, rest_s, spare
        Before and after: the end, the longest wait and the shortest rest of any team [s],
        lanes to spare; the rest is None where no team is up twice on a day.
    new, mended
        What the check says and did not say before, and what it does not say any more.
    changed
        Ids of the heats that are elsewhere, at another time, or of other teams.
    longer, later
        Teams that wait longer, the longest first; how many teams have any heat elsewhere.
    """

    finish_s: tuple[int, int]
    wait_s: tuple[int, int]
    rest_s: tuple[int | None, int | None]
    spare: tuple[int, int]
    new: tuple[Finding, ...]
    mended: tuple[Finding, ...]
    changed: frozenset[str]
    longer: tuple[str, ...]
    teams: int


class Judged(NamedTuple):
    """A plan with the event it is of, which pins and wishes, and what the check says of it."""

    event: Event
    plan: Plan
    findings: Sequence[Finding]


def effects(teams: Iterable[Team], before: Judged, after: Judged) -> Effects:
    """Return what changed from one plan to another; the teams are those that need heats."""
    entered = tuple(teams)
    was, will = before.plan, after.plan
    waited, waits = longest_waits(before.event, was), longest_waits(after.event, will)
    longer = [team for team, wait_s in waits.items() if wait_s > waited.get(team, wait_s)]
    old = {heat.id: heat for heat in was.heats}
    changed = [heat for heat in will.heats if _place(old.get(heat.id)) != _place(heat)]
    return Effects(
        finish_s=(_over_s(was), _over_s(will)),
        wait_s=(max(waited.values(), default=0), max(waits.values(), default=0)),
        rest_s=(_shortest(before.event, was), _shortest(after.event, will)),
        spare=(
            spare_lanes(before.event, entered, was),
            spare_lanes(after.event, entered, will),
        ),
        new=tuple(_but(after.findings, before.findings)),
        mended=tuple(_gone(before.findings, after.findings)),
        changed=frozenset(heat.id for heat in changed),
        longer=tuple(sorted(longer, key=lambda team: (-waits[team], team))),
        teams=len({team for heat in changed for team in _moved_teams(old.get(heat.id), heat)}),
    )


def _place(heat: Heat | None) -> object:
    return heat and (heat.floor, heat.start_s, heat.lanes)


def _moved_teams(before: Heat | None, after: Heat) -> Iterator[str]:
    if before is None or (before.floor, before.start_s) != (after.floor, after.start_s):
        yield from after.teams
        return
    for team in after.teams:
        if before.lane_of(team) != after.lane_of(team):
            yield team


def _over_s(plan: Plan) -> int:
    return max((heat.end_s for heat in plan.heats), default=0)


def _shortest(event: Event, plan: Plan) -> int | None:
    opens_s = [day.opens_s for day in event.wishes.days]
    days: dict[str, list[Heat]] = {}
    for heat in sorted(plan.heats, key=lambda heat: heat.start_s):
        for team in heat.teams:
            days.setdefault(team, []).append(heat)
    rests = (
        other.start_s - one.end_s
        for row in days.values()
        for one, other in pairwise(row)
        if not any(one.start_s < open_s <= other.start_s for open_s in opens_s)
    )
    return min(rests, default=None)


def _but(these: Sequence[Finding], those: Sequence[Finding]) -> Iterator[Finding]:
    known = [(one.rule, one.subject, dict(one.facts)) for one in those]
    for one in these:
        if (one.rule, one.subject, dict(one.facts)) not in known:
            yield one


def _gone(before: Sequence[Finding], after: Sequence[Finding]) -> Iterator[Finding]:
    """Yield what is not said any more, not even with other minutes."""
    left = {_about(one) for one in after}
    for one in before:
        if _about(one) not in left:
            yield one


def _about(one: Finding) -> tuple[object, ...]:
    facts = sorted((key, value) for key, value in one.facts.items() if isinstance(value, str))
    return one.rule, one.subject, *facts
