"""The day from now in the order published: each heat as soon as it may and can.

For a fixed order this is the best there is: no heat waits for one that comes after it, so the
earliest start of each is the earliest for all behind it (only a limit on judges can make an
early start a bad one).
"""

from typing import NamedTuple

from callroom.planner.chains import round_up
from callroom.planner.repair.to_come import Coming, Rest


class At(NamedTuple):
    """Where and when a heat is run from now on [s]."""

    floor: str
    start_s: int


def keep_order(rest: Rest) -> dict[str, At]:
    """Return floor and start of every heat to come, in the order published.

    A heat that may be run on several floors takes the one where it starts soonest. Heats are
    not pulled forward, even where all are present: nobody is told anything without need.
    """
    pass_ = _Pass(rest)
    for heat in rest.heats:
        pass_.place(heat)
    return pass_.placed


class _Busy(NamedTuple):
    start_s: int
    end_s: int
    judges: int


class _Pass:
    """The state of the pass: what each floor did last, and what each team has done."""

    def __init__(self, rest: Rest) -> None:
        self._rest = rest
        self._last: dict[str, tuple[Coming, int]] = {}
        self._ended: dict[str, list[tuple[str, int]]] = {}
        self._busy: list[_Busy] = []
        self.placed: dict[str, At] = {}
        for heat in sorted(rest.running, key=lambda one: rest.ends_s[one.id]):
            self._book(heat, At(heat.floors[0], heat.earliest_s), rest.ends_s[heat.id])

    def place(self, heat: Coming) -> None:
        """Give a heat its time and floor."""
        at = min(
            (At(floor, self._soonest_s(heat, floor)) for floor in heat.floors),
            key=lambda one: one.start_s,
        )
        self.placed[heat.id] = at
        self._book(heat, at, at.start_s + heat.length_s)

    def _book(self, heat: Coming, at: At, end_s: int) -> None:
        self._last[at.floor] = heat, end_s
        self._busy.append(_Busy(at.start_s, end_s, heat.judges))
        for team in self._rest.competing(heat):
            self._ended.setdefault(team, []).append((heat.workout, end_s))

    def _soonest_s(self, heat: Coming, floor: str) -> int:
        rest = self._rest
        start_s = max(rest.now_s, heat.published_s, heat.earliest_s, rest.ready_s.get(floor, 0))
        if floor in self._last:
            before, end_s = self._last[floor]
            start_s = max(start_s, end_s + rest.changeover_s(before, heat))
        for team in rest.competing(heat):
            for workout, end_s in self._ended.get(team, ()):
                start_s = max(start_s, end_s + rest.rest_s(workout, heat.workout))
        while True:
            start_s = round_up(start_s, rest.grid_s)
            later_s = max(self._past_breaks_s(heat, floor, start_s), self._judged_s(heat, start_s))
            if later_s == start_s:
                return start_s
            start_s = later_s

    def _past_breaks_s(self, heat: Coming, floor: str, start_s: int) -> int:
        for pause in self._rest.breaks_on(floor):
            if start_s < pause.end_s and pause.start_s < start_s + heat.length_s:
                return pause.end_s
        return start_s

    def _judged_s(self, heat: Coming, start_s: int) -> int:
        """Return the start, or the next moment at which judges become free [s]."""
        limit = self._rest.judges_limit
        if limit is None or heat.judges > limit:
            return start_s
        end_s = start_s + heat.length_s
        around = [one for one in self._busy if one.start_s < end_s and start_s < one.end_s]
        moments = [start_s, *(one.start_s for one in around if one.start_s > start_s)]
        peak = max(
            sum(one.judges for one in around if one.start_s <= moment < one.end_s)
            for moment in moments
        )
        if peak + heat.judges <= limit:
            return start_s
        return min(one.end_s for one in around if one.end_s > start_s)
