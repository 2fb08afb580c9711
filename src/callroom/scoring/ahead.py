"""Which of two teams is ahead overall at the end, in every way the open scores can turn out.

Two teams are compared by their standing, their points, then the tie chain. Points and every
item of the chain are sums over parts: of points, of places in one part, or of how often each
place was taken (written as digits of one number, the firsts in front). Compared one after the other they are an order of whole vectors that adding
keeps. The parts turn out independently of each other, so the least of the sum is the sum of the
least, and the greatest likewise: no combination has to be tried.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Literal

import msgspec

from callroom.model import Part
from callroom.scoring.division import DivisionScores
from callroom.scoring.entrants import Entrant
from callroom.scoring.overall import parts_named
from callroom.scoring.pair_places import OPEN, Outcome, Slot, joint_places
from callroom.scoring.points import Award
from callroom.scoring.rank import NO_PLACE
from callroom.scoring.score import Score

Order = Literal["ahead", "level", "behind", "neither"]
"""Of the first of two teams; ``neither``: none of them has a place."""

Margin = tuple[Fraction | int, ...]
"""Points, then the items of the tie chain: how far the first team is ahead of the other."""
Span = tuple[Margin, Margin]
"""The least and the greatest margin."""
Gaps = tuple[bool, bool]
"""Whether the one and the other team have no place in some part."""


class Column(msgspec.Struct, frozen=True, kw_only=True):
    """A part that counts: each entrant's score, or that it is open; in the order of the field."""

    workout: str
    part: Part
    slots: tuple[Slot, ...]
    scores: tuple[Score, ...]


class Contest:
    """A division in which some scores are open, for a number of teams that start."""

    def __init__(
        self, scored: DivisionScores, open_scores: frozenset[tuple[str, str, str]], starters: int
    ) -> None:
        """Take the scores of `open_scores` (workout, part, team) as open."""
        self.field: Sequence[Entrant] = scored.field
        self.columns = tuple(_columns(scored, open_scores))
        self._rules = scored.rules
        self._award = Award(scored.rules.points, starters)
        self._chain = tuple(_chain(scored.rules.tie_chain, self.columns))
        self._nothing: Margin = (0,) * (1 + len(self._chain))
        # No place is taken oftener than there are parts, by either of two teams.
        base = 2 * len(self.columns) + 1
        self._digit = [0, *(base ** (len(self.field) - at) for at in range(len(self.field)))]
        self._summed: dict[tuple[int, int], tuple[Margin, Gaps]] = {}
        self._tables: dict[int, Sequence[Fraction | int]] = {}
        self._known: dict[tuple[object, ...], Mapping[Gaps, Span] | None] = {}

    def orders(self, one: int, other: int) -> frozenset[Order]:
        """Return every way in which two entrants of the field can end beside each other."""
        spans = self._spans(one, other)
        if spans is None:
            return frozenset({"ahead", "level", "behind"})
        found: set[Order] = set()
        for (one_gap, other_gap), span in spans.items():
            mine = self._rank(self.field[one], gap=one_gap)
            theirs = self._rank(self.field[other], gap=other_gap)
            found |= _orders(mine, theirs, span)
        return frozenset(found)

    def ranked(self, one: int) -> frozenset[bool]:
        """Return whether an entrant can end with a place overall, and whether without one."""
        slots = [column.slots[one] for column in self.columns]
        gaps = {True} if None in slots else {True, False} if OPEN in slots else {False}
        return frozenset(self._rank(self.field[one], gap=gap) < _UNRANKED for gap in gaps)

    def decided(self, one: int, other: int, column: Column) -> bool:
        """Whether the other open scores of a part cannot change how two entrants compare."""
        spans = self._span_in(column, one, other)
        return spans is not None and len(spans) == 1 and all(a == b for a, b in spans.values())

    def falls(self, column: Column) -> bool:
        """Whether places alone earn points in a part, and a worse place never earns better."""
        if not self._award.by_place:
            return False
        earned = self._table(column)[1:]
        if self._award.fewest_best:
            earned = [-points for points in earned]
        return all(one >= other for one, other in pairwise(earned))

    def ahead_with(
        self, column: Column, one: tuple[int, int | None], other: tuple[int, int | None]
    ) -> bool:
        """Whether entrant `one` is ahead with a place in an open part, the other with another.

        All other parts must be settled.
        """
        places = one[1], other[1]
        margin, gaps = self._elsewhere(column, one[0], other[0])
        mine = self._rank(self.field[one[0]], gap=gaps[0] or one[1] is None)
        theirs = self._rank(self.field[other[0]], gap=gaps[1] or other[1] is None)
        if mine != theirs or mine == _UNRANKED:
            return mine < theirs
        points = self._points(column, places, (column.scores[0], column.scores[0]))
        if points + margin[0]:
            return points + margin[0] > 0
        return _sign(_sum(margin, self._margin(column, places, points))) == "ahead"

    def placed_with(self, column: Column, one: int) -> bool:
        """Whether an entrant has a place overall if it takes one in an open part."""
        gap = any(each.slots[one] is None for each in self.columns if each is not column)
        return self._rank(self.field[one], gap=gap) < _UNRANKED

    def _elsewhere(self, column: Column, one: int, other: int) -> tuple[Margin, Gaps]:
        known = self._summed.get((one, other))
        if known is None:
            margin, gaps = self._nothing, (False, False)
            for each in self.columns:
                if each is not column:
                    for here, (least, _) in (self._span_in(each, one, other) or {}).items():
                        margin = _sum(margin, least)
                        gaps = (gaps[0] or here[0], gaps[1] or here[1])
            known = self._summed[one, other] = margin, gaps
        return known

    def _rank(self, entrant: Entrant, *, gap: bool) -> int:
        if entrant.status in {"disqualified", "out_of_competition"}:
            return _UNRANKED
        if not gap:
            return 0
        return 1 if self._rules.absent_overall == "below" else _UNRANKED

    def _spans(self, one: int, other: int) -> Mapping[Gaps, Span] | None:
        """Return the margins by who lacks a place; None: they have no bounds."""
        summed: dict[Gaps, Span] = {(False, False): (self._nothing, self._nothing)}
        for column in self.columns:
            here = self._span_in(column, one, other)
            if here is None:
                return None
            step: dict[Gaps, Span] = {}
            for gaps, span in summed.items():
                for more, spread in here.items():
                    both = (gaps[0] or more[0], gaps[1] or more[1])
                    _widen(step, both, (_sum(span[0], spread[0]), _sum(span[1], spread[1])))
            summed = step
        return summed

    def _span_in(self, column: Column, one: int, other: int) -> Mapping[Gaps, Span] | None:
        slots = column.slots[one], column.slots[other]
        shared = sum(slot == OPEN for slot in column.slots) - sum(slot == OPEN for slot in slots)
        mark: tuple[object, ...] = (id(column), *slots, shared)
        if not self._award.by_place:
            mark = (id(column), one, other)
        if mark not in self._known:
            self._known[mark] = self._span_of(column, one, other, shared)
        return self._known[mark]

    def _span_of(
        self, column: Column, one: int, other: int, others_open: int
    ) -> Mapping[Gaps, Span] | None:
        pair = (one, other)
        if not self._award.by_place and any(column.slots[each] == OPEN for each in pair):
            return None  # what an open result earns has no bounds
        settled = [
            slot
            for index, slot in enumerate(column.slots)
            if index not in pair and isinstance(slot, int)
        ]
        outcomes = joint_places(column.slots[one], column.slots[other], settled, others_open)
        scores = column.scores[one], column.scores[other]
        # Only outcomes with the fewest or most points can have the least or greatest margin.
        extremes: dict[Gaps, tuple[list[Outcome], list[Outcome]]] = {}
        points = {outcome: self._points(column, outcome, scores) for outcome in outcomes}
        for gaps, alike in _by_gaps(outcomes).items():
            least = min(points[outcome] for outcome in alike)
            most = max(points[outcome] for outcome in alike)
            extremes[gaps] = (
                [outcome for outcome in alike if points[outcome] == least],
                [outcome for outcome in alike if points[outcome] == most],
            )
        return {
            gaps: (
                min(self._margin(column, outcome, points[outcome]) for outcome in low),
                max(self._margin(column, outcome, points[outcome]) for outcome in high),
            )
            for gaps, (low, high) in extremes.items()
        }

    def _points(
        self, column: Column, outcome: Outcome, scores: tuple[Score, Score]
    ) -> Fraction | int:
        if self._award.by_place:
            table = self._table(column)
            points = table[outcome[0] or 0] - table[outcome[1] or 0]
        else:
            earned = [
                self._award.worth(column.part, place, score)
                for place, score in zip(outcome, scores, strict=True)
            ]
            points = earned[0] - earned[1]
        return -points if self._award.fewest_best else points

    def _table(self, column: Column) -> Sequence[Fraction | int]:
        """Return what every place earns in a part, before them what none does."""
        table = self._tables.get(id(column))
        if table is None:
            worth = [
                self._award.worth(column.part, place or None, column.scores[0])
                for place in range(len(self.field) + 1)
            ]
            # Whole numbers are compared many times faster, and hardly any table has others.
            whole = all(earned.denominator == 1 for earned in worth)
            table = [earned.numerator for earned in worth] if whole else worth
            self._tables[id(column)] = table
        return table

    def _margin(self, column: Column, outcome: Outcome, points: Fraction | int) -> Margin:
        margin: list[Fraction | int] = [points]
        for named in self._chain:
            if named is None:
                margin.append(self._digit[outcome[0] or 0] - self._digit[outcome[1] or 0])
            elif not any(column is each for each in named):
                margin.append(0)
            elif len(named) > 1:
                margin.append(points)
            else:
                mine, theirs = (NO_PLACE if place is None else place for place in outcome)
                margin.append(theirs - mine)
        return tuple(margin)


_UNRANKED = 2


def _columns(
    scored: DivisionScores, open_scores: frozenset[tuple[str, str, str]]
) -> Iterator[Column]:
    for part in scored.parts:
        if part.void:
            continue
        workout, part_id = part.terms.workout, part.terms.part.id
        slots: list[Slot] = [
            None
            if not entrant.takes_places
            else OPEN
            if (workout, part_id, entrant.team) in open_scores
            else score.key
            for entrant, score in zip(scored.field, part.scores, strict=True)
        ]
        yield Column(workout=workout, part=part.terms.part, slots=tuple(slots), scores=part.scores)


def _chain(items: Sequence[str], columns: Sequence[Column]) -> Iterator[tuple[Column, ...] | None]:
    """Give the parts that each item of the tie chain is about; None: it counts places."""
    results = [(column.workout, column.part.id) for column in columns]
    for item in items:
        if item == "shared":
            return
        if item == "most_firsts":
            yield None
        elif named := parts_named(item, results):
            yield tuple(columns[at] for at in named)


def _orders(mine: int, theirs: int, span: Span) -> set[Order]:
    if mine == theirs == _UNRANKED:
        return {"neither"}
    if mine != theirs:
        return {"ahead" if mine < theirs else "behind"}
    return {_sign(span[0]), _sign(span[1])}


def _sign(margin: Margin) -> Order:
    first = next((number for number in margin if number), 0)
    return "level" if not first else "ahead" if first > 0 else "behind"


def _by_gaps(outcomes: Iterable[Outcome]) -> Mapping[Gaps, list[Outcome]]:
    found: dict[Gaps, list[Outcome]] = {}
    for outcome in outcomes:
        found.setdefault((outcome[0] is None, outcome[1] is None), []).append(outcome)
    return found


def _widen(spans: dict[Gaps, Span], gaps: Gaps, span: Span) -> None:
    least, most = spans.get(gaps, span)
    spans[gaps] = (min(least, span[0]), max(most, span[1]))


def _sum(one: Margin, other: Margin) -> Margin:
    return tuple(a + b for a, b in zip(one, other, strict=True))
