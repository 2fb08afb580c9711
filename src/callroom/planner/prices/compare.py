"""Two plans side by side: as values for a picture, and as findings for words."""

from collections.abc import Iterable, Iterator

import msgspec

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.prices.measures import longest_waits, spare_lanes
from callroom.planner.prices.rules import RULES


class HeatMove(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A heat with the same teams in both plans, at another time or on another floor.

    Times are seconds from the day's start; `by_s` is the new start less the old one.
    """

    workout: str
    before: str
    after: str
    teams: tuple[str, ...]
    from_s: int
    to_s: int
    from_floor: str
    to_floor: str

    @property
    def by_s(self) -> int:
        """How much later it starts [s]; negative: earlier."""
        return self.to_s - self.from_s


class TeamWait(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The longest wait of a team in both plans, pauses of all floors not counted [s]."""

    team: str
    before_s: int
    after_s: int


class Comparison(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What differs between two plans; teams in one of them only are left out of the waits.

    `regrouped` are the heats of the later plan whose company is new in that workout.
    """

    finish_before_s: int
    finish_after_s: int
    moved: tuple[HeatMove, ...]
    regrouped: tuple[str, ...]
    waits: tuple[TeamWait, ...]
    spare_before: int
    spare_after: int
    findings: tuple[Finding, ...]


def compare(event: Event, teams: Iterable[Team], before: Plan, after: Plan) -> Comparison:
    """Return what differs between two plans of one event."""
    entered = tuple(teams)
    old = {(heat.workout, frozenset(heat.teams)): heat for heat in before.heats}
    new = {(heat.workout, frozenset(heat.teams)): heat for heat in after.heats}
    pairs = [(old[key], heat) for key, heat in new.items() if key in old]
    moved = tuple(_move(one, other) for one, other in pairs if _place(one) != _place(other))
    regrouped = tuple(heat.id for key, heat in new.items() if key not in old)
    was, will = longest_waits(event, before), longest_waits(event, after)
    waits = tuple(
        TeamWait(team=team, before_s=was[team], after_s=will[team])
        for team in was
        if team in will and was[team] != will[team]
    )
    blank = Comparison(
        finish_before_s=max((heat.end_s for heat in before.heats), default=0),
        finish_after_s=max((heat.end_s for heat in after.heats), default=0),
        moved=tuple(sorted(moved, key=lambda move: (move.to_s, move.after))),
        regrouped=regrouped,
        waits=tuple(sorted(waits, key=lambda wait: (wait.before_s - wait.after_s, wait.team))),
        spare_before=spare_lanes(event, entered, before),
        spare_after=spare_lanes(event, entered, after),
        findings=(),
    )
    worst = max(was.values(), default=0), max(will.values(), default=0)
    people = len({team for id_ in regrouped for team in after.heat(id_).teams})
    return msgspec.structs.replace(blank, findings=tuple(_said(blank, worst, people)))


def _place(heat: Heat) -> tuple[str, int]:
    return heat.floor, heat.start_s


def _move(before: Heat, after: Heat) -> HeatMove:
    return HeatMove(
        workout=after.workout,
        before=before.id,
        after=after.id,
        teams=after.teams,
        from_s=before.start_s,
        to_s=after.start_s,
        from_floor=before.floor,
        to_floor=after.floor,
    )


def _said(found: Comparison, worst: tuple[int, int], regrouped_teams: int) -> Iterator[Finding]:
    by_s, finish_s = found.finish_after_s - found.finish_before_s, found.finish_after_s
    same = not (by_s or found.moved or found.regrouped)
    if same:
        yield RULES.found("compare.nothing", "plan")
        return
    if by_s < 0:
        yield RULES.found("compare.finish_earlier", "plan", by_s=-by_s, finish_at_s=finish_s)
    elif by_s > 0:
        yield RULES.found("compare.finish_later", "plan", by_s=by_s, finish_at_s=finish_s)
    else:
        yield RULES.found("compare.finish_same", "plan", finish_at_s=finish_s)
    if worst[0] != worst[1]:
        yield RULES.found("compare.longest_wait", "plan", before_s=worst[0], after_s=worst[1])
    if found.waits:
        longer = [w.after_s - w.before_s for w in found.waits if w.after_s > w.before_s]
        yield RULES.found(
            "compare.waits",
            "plan",
            longer=len(longer),
            shorter=len(found.waits) - len(longer),
            most_longer_s=max(longer, default=0),
        )
    if found.moved:
        yield RULES.found(
            "compare.moved",
            "plan",
            heats=len(found.moved),
            teams=len({team for move in found.moved for team in move.teams}),
            most_s=max(abs(move.by_s) for move in found.moved),
        )
    if found.regrouped:
        yield RULES.found("compare.other_company", "plan", teams=regrouped_teams)
    if found.spare_before != found.spare_after:
        yield RULES.found(
            "compare.spare_lanes", "plan", before=found.spare_before, after=found.spare_after
        )
