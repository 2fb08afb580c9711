"""From places to points, exactly.

The sum of places counts each place as its number: fewest are best, and a team without a place
gets one more than the teams that started the division. In the other ways a place earns points
by a line, a table or a formula: most are best, and no place earns nothing. All teams of a tie
get what their shared place earns; nothing is averaged.
"""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from callroom.model import Event, Finding, Part, Points
from callroom.scoring.catalogue import RULES
from callroom.scoring.exact import work_out
from callroom.scoring.formula import FormulaError, Node, names_in, read_formula
from callroom.scoring.score import Score

TRIED_TEAMS = (1, 2, 3, 5, 8, 13, 21, 34, 55, 89, 1000)
TRIED_RESULTS = (0, 1, 5, 10, 30, 60, 100, 300, 600, 1000, 3600, 10_000)
"""Sizes of a division and results that a formula is tried with before the day."""


class Award:
    """How a division in which `starters` teams started (or still may) awards its points.

    Attributes
    ----------
    fewest_best
        Whether the fewest points are the best; so for the sum of places alone.
    fault
        Why a formula could not be worked out for somebody, who then earned nothing: a day
        must go on with the standings that can be made, but never without saying so.
    """

    def __init__(self, points: Points, starters: int) -> None:
        self.fewest_best = points.kind == "places"
        self.fault: Finding | None = None
        self._points = points
        self._starters = starters
        self._tables: dict[int, list[Fraction]] = {}
        self._formula = self._read() if points.kind == "formula" else None

    def points(
        self, part: Part, places: Sequence[int | None], scores: Sequence[Score]
    ) -> list[Fraction]:
        """Return what each place, won by the score beside it, is worth in `part`."""
        if not self.by_place:
            share = share_of(part)
            return [
                share * self._earned(place, result_number(score, part))
                for place, score in zip(places, scores, strict=True)
            ]
        table = self._table(part, len(places))
        return [table[place or 0] for place in places]

    @property
    def by_place(self) -> bool:
        """Whether places alone decide what is earned, and no result is looked at."""
        return self._formula is None or "result" not in names_in(self._formula)

    def worth(self, part: Part, place: int | None, score: Score) -> Fraction:
        """Return what one place, won by `score`, is worth in `part`."""
        if self.by_place:
            return self._table(part, place or 0)[place or 0]
        return share_of(part) * self._earned(place, result_number(score, part))

    def _table(self, part: Part, teams: int) -> list[Fraction]:
        """Return what places 1 to `teams` are worth, and before them what none is."""
        known = self._tables.setdefault(part.share_percent, [])
        while len(known) <= teams:
            worth = self._earned(len(known) or None, Fraction(0))
            known.append(worth if part.share_percent == 100 else share_of(part) * worth)
        return known

    def _earned(self, place: int | None, result: Fraction) -> Fraction:
        points = self._points
        if place is None:
            return Fraction(self._starters + 1 if self.fewest_best else 0)
        if points.kind == "places":
            return Fraction(place)
        if points.kind == "linear":
            line = Fraction(points.first) - Fraction(points.step) * (place - 1)
            return max(line, Fraction(0))
        if points.kind == "table":
            listed = place <= len(points.table)
            return Fraction(points.table[place - 1]) if listed else Fraction(0)
        return self._by_formula(place, result)

    def _by_formula(self, place: int, result: Fraction) -> Fraction:
        if self._formula is None:
            return Fraction(0)
        teams = Fraction(self._starters)
        values = {"place": Fraction(place), "teams": teams, "result": result}
        try:
            return work_out(self._formula, values)
        except FormulaError as refused:
            self.fault = self.fault or _impossible(self._points, refused, values)
            return Fraction(0)

    def _read(self) -> Node | None:
        try:
            return read_formula(self._points.formula)
        except FormulaError as refused:
            self.fault = _unreadable(self._points, refused)
            return None


def share_of(part: Part) -> Fraction:
    """Return how much of the points a part is worth: 1 or a half, usually."""
    return Fraction(part.share_percent, 100)


def result_number(score: Score, part: Part) -> Fraction:
    """Return the ``result`` of a formula: seconds, counts, kilograms or metres.

    A capped team's is the cap with a second for everything it missed.
    """
    if score.kind == "capped" and score.time_ms is None:
        return Fraction(part.cap_s + max(score.missing or 0, 1))
    if score.time_ms is not None:
        return Fraction(score.time_ms, 1000)
    if score.kind == "lifted":
        return score.load_g / 1000
    return Fraction(score.work if score.work is not None else score.distance_m or 0)


def points_text(points: Fraction, decimals: int = 3) -> str:
    """Return points as they are printed: ``"9"``, ``"4.5"``; cut off, ``"33.333…"``.

    Only for reading: what does not fit in `decimals` is cut off and marked so.
    """
    scaled = abs(points) * 10**decimals
    whole, rest = divmod(scaled.numerator, scaled.denominator)
    digits = f"{whole:0{decimals + 1}}"
    text = f"{digits[:-decimals]}.{digits[-decimals:]}"
    text = f"{text}…" if rest else text.rstrip("0").rstrip(".")
    return f"−{text}" if points < 0 else text


def check_points(event: Event) -> tuple[Finding, ...]:
    """Return what keeps the points formula of `event` from being worked out, if anything.

    It is tried for every place of several sizes of division and, where it uses the result,
    for a spread of results, nought among them.
    """
    points = event.rules.points
    if points.kind != "formula" or not points.formula.strip():
        return ()
    try:
        tree = read_formula(points.formula)
    except FormulaError as refused:
        return (_unreadable(points, refused),)
    for values in _trials(with_result="result" in names_in(tree)):
        try:
            work_out(tree, values)
        except FormulaError as refused:
            return (_impossible(points, refused, values),)
    return ()


def _trials(*, with_result: bool) -> Iterator[dict[str, Fraction]]:
    for teams in TRIED_TEAMS:
        tried = {1, 2, 3, teams // 2 + 1, teams - 1, teams}
        for place in sorted(place for place in tried if 1 <= place <= teams):
            for result in TRIED_RESULTS if with_result else (0,):
                values = {"place": place, "teams": teams, "result": result}
                yield {name: Fraction(value) for name, value in values.items()}


def _unreadable(points: Points, refused: FormulaError) -> Finding:
    facts = {"formula": points.formula, **refused.facts}
    return RULES.found(refused.rule, "rules.points.formula", **facts)


def _impossible(points: Points, refused: FormulaError, values: Mapping[str, Fraction]) -> Finding:
    tried = ", ".join(f"{name} = {value}" for name, value in values.items())
    facts = {"formula": points.formula, **refused.facts, "tried": tried}
    return RULES.found(refused.rule, "rules.points.formula", **facts)
