"""The day from now in the order published: each heat as soon as it may and can.

For a fixed order this is the best there is: no heat waits for one that comes after it, so the
earliest start of each is the earliest for all behind it (only a limit on judges can make an
early start a bad one, or on anything else that is shared).
"""

from typing import NamedTuple

from callroom.planner.chains import round_up
from callroom.planner.repair.to_come import Coming, Rest
from callroom.planner.repair.wishes import Store, follows, stores

PATIENCE_S = 2 * 3600
"""A heat waits so long at most for something shared; after that it goes on, and the check says it."""


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
        self._before: dict[str, list[tuple[str, int]]] = {}
        for one, other, gap_s in follows(rest):
            self._before.setdefault(other, []).append((one, gap_s))
        self._ends_s: dict[str, int] = {}
        self._stores = [_Stock(store) for store in stores(rest)]
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
        self._ends_s[heat.id] = end_s
        for stock in self._stores:
            stock.take(heat.id, at.start_s)
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
        for one, gap_s in self._before.get(heat.id, ()):
            start_s = max(start_s, self._ends_s.get(one, start_s - gap_s) + gap_s)
        patient_until_s = start_s + PATIENCE_S
        while True:
            start_s = round_up(start_s, rest.grid_s)
            later_s = max(self._past_breaks_s(heat, floor, start_s), self._judged_s(heat, start_s))
            for stock in self._stores:
                given_s = stock.given_s(heat.id, start_s)
                if given_s <= patient_until_s:
                    later_s = max(later_s, given_s)
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


class _Stock:
    """Something that is shared, with what has been taken of it so far [s]."""

    def __init__(self, store: Store) -> None:
        self._store = store
        self._taken = [(dip.start_s, dip.end_s, min(dip.count, store.limit)) for dip in store.dips]

    def take(self, heat: str, start_s: int) -> None:
        """Note what a heat takes."""
        use = self._store.needs.get(heat)
        if use is not None:
            self._taken.append((start_s + use.from_s, start_s + use.until_s, use.pieces))

    def given_s(self, heat: str, start_s: int) -> int:
        """Return the start, or the next one at which something is given back [s]."""
        use = self._store.needs.get(heat)
        if use is None or use.pieces > self._store.limit:
            return start_s
        from_s, until_s = start_s + use.from_s, start_s + use.until_s
        around = [one for one in self._taken if one[0] < until_s and from_s < one[1]]
        for moment_s in (from_s, *(one[0] for one in around if one[0] > from_s)):
            now = [one for one in around if one[0] <= moment_s < one[1]]
            if sum(one[2] for one in now) + use.pieces > self._store.limit:
                return min(one[1] for one in now) - use.from_s
        return start_s
