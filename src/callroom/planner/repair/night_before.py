"""The night before: thin heats closed or filled up after drop-outs, with the fewest moves."""

from collections.abc import Iterable

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.plan import Heat, LaneTeam, Plan
from callroom.model.team import Team
from callroom.planner.check.repair import check_repair
from callroom.planner.check.repair_wishes import HELD, check_wishes
from callroom.planner.day_now import DayNow, Repaired
from callroom.planner.repair.notices import notices


def night_before(
    event: Event, teams: Iterable[Team], plan: Plan, withdrawn: Iterable[str]
) -> Repaired:
    """Return the plan without those who dropped out.

    A heat with fewer teams than wished is closed if the other heats of its workout and
    division have room for its teams; otherwise it takes teams from the fullest of them. Every
    heat that is left keeps its time, for that has been published, and every team its rests:
    where a move would cut one, or break a wish that the plan keeps, it is not made and the heat
    stays thin.

    Parameters
    ----------
    event, teams, plan
        The day as published, with every team that entered, those who dropped out too.
    withdrawn
        Ids of the teams that dropped out.
    """
    entered = tuple(teams)
    # Before the day everybody can still be told, so all count as present.
    now = DayNow(
        now_s=min((heat.start_s for heat in plan.heats), default=0),
        withdrawn=tuple(withdrawn),
        present=tuple(team.id for team in entered),
    )
    table = _Table(event, entered, plan, now)
    for block in table.blocks():
        table.thin_out(block)
    row = tuple(heat for heat in table.heats.values() if heat.lanes)
    changed = row != plan.heats
    after = replace(
        plan,
        revision=plan.revision + changed,
        heats=row,
        finish_s=max((heat.end_s for heat in row), default=0),
        bound_s=None if changed else plan.bound_s,
    )
    told = notices(plan, after, now)
    return Repaired(
        how="kept_order" if changed else "unchanged",
        plan=after,
        cost=len({team for notice in told for team in notice.teams}),
        notices=told,
        findings=check_repair(event, entered, plan, after, now=now, notices=told),
    )


class _Table:
    """The heats while teams move between them."""

    def __init__(self, event: Event, teams: tuple[Team, ...], plan: Plan, now: DayNow) -> None:
        self._event, self._plan, self._now = event, plan, now
        self._teams = {team.id: team for team in teams}
        self.heats = {
            heat.id: replace(
                heat, lanes=tuple(place for place in heat.lanes if place.team not in now.withdrawn)
            )
            for heat in plan.heats
        }

    def blocks(self) -> list[list[str]]:
        """Return the heats by workout and divisions, in the order they are run."""
        rows: dict[tuple[str, frozenset[str]], list[str]] = {}
        for heat in sorted(self.heats.values(), key=lambda one: (one.start_s, one.id)):
            mix = frozenset(self._teams[team].division for team in heat.teams)
            rows.setdefault((heat.workout, mix), []).append(heat.id)
        return list(rows.values())

    def thin_out(self, block: list[str]) -> None:
        """Close or fill up the thin heats of a block, the thinnest first."""
        least = self._event.wishes.least_per_heat
        tried: set[str] = set()
        while True:
            thin = [n for n in block if n not in tried and 0 < len(self.heats[n].lanes) < least]
            if not thin:
                return
            name = min(thin, key=lambda one: (len(self.heats[one].lanes), self.heats[one].start_s))
            tried.add(name)
            if not self._close(name, block):
                self._fill(name, block, least)

    def _close(self, name: str, block: list[str]) -> bool:
        """Move all teams of a heat into others; False, with nothing moved, if one cannot."""
        before = dict(self.heats)
        for team in self.heats[name].teams:
            others = [other for other in block if other != name and self._takes(other, team)]
            if not others:
                self.heats = before
                return False
            start_s = self.heats[name].start_s
            self._move(team, min(others, key=lambda o: abs(self.heats[o].start_s - start_s)), name)
        return self._stands(before)

    def _fill(self, name: str, block: list[str], least: int) -> None:
        """Take teams from the fullest heats of a block that stay above the least."""
        while len(self.heats[name].lanes) < least:
            able = [
                (len(self.heats[other].lanes), other, team)
                for other in block
                if other != name and len(self.heats[other].lanes) > least
                for team in reversed(self.heats[other].teams)
                if self._takes(name, team, leaving=other)
            ]
            if not able:
                return
            before = dict(self.heats)
            for _, other, team in sorted(able, key=lambda one: -one[0]):
                self._move(team, name, other)
                if self._stands(before):
                    break
            else:
                return

    def _stands(self, before: dict[str, Heat]) -> bool:
        """Whether the heats keep the wishes that the plan keeps; if not, they are as `before`."""
        row = tuple(heat for heat in self.heats.values() if heat.lanes)
        after = replace(self._plan, heats=row)
        held = HELD | {"check.leaders_not_last"}
        if any(check_wishes(self._event, self._teams, self._plan, after, self._now, held=held)):
            self.heats = before
            return False
        return True

    def _move(self, team: str, to: str, out_of: str) -> None:
        source, target = self.heats[out_of], self.heats[to]
        left = tuple(place for place in source.lanes if place.team != team)
        self.heats[out_of] = replace(source, lanes=left)
        lane = self._free(target)[0]
        lanes = sorted(
            (*target.lanes, LaneTeam(lane=lane, team=team)), key=lambda place: place.lane
        )
        self.heats[to] = replace(target, lanes=tuple(lanes))

    def _takes(self, name: str, team: str, leaving: str = "") -> bool:
        """Whether a heat is open, has a lane, and leaves a team its rests."""
        heat = self.heats[name]
        if not heat.lanes or not self._free(heat):
            return False
        rest_s = self._event.wishes.rest_between_s
        return all(
            other.start_s >= heat.end_s + rest_s(heat.workout, other.workout)
            or heat.start_s >= other.end_s + rest_s(other.workout, heat.workout)
            for other in self.heats.values()
            if team in other.teams and other.id != leaving and other.workout != heat.workout
        )

    def _free(self, heat: Heat) -> list[int]:
        """Return the free lanes of a heat, those next to its teams first."""
        taken = [place.lane for place in heat.lanes]
        free = [n for n in self._event.floor(heat.floor).open_lanes if n not in taken]
        return sorted(free, key=lambda lane: (min(abs(lane - one) for one in taken), lane))
