"""The menu of an impossible day: for each kind of wish alone, the least change that does.

The greatest level of a knob is tried first: if that is in vain, so is the whole kind. Then
the least level that does is found by bisection. Every line that is offered rests on a
timetable that was found with the change made and that the independent check let pass.
"""

from collections.abc import Callable, Iterable, Iterator
from itertools import islice, permutations
from typing import Literal

import msgspec

from callroom.model.errors import CallroomError
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.team import Team
from callroom.planner.check import check_timetable
from callroom.planner.problem import Problem
from callroom.planner.questions import questions, worst
from callroom.planner.timetable import Limits, Status, Timetable
from callroom.planner.what_if import Knob, knobs, said
from callroom.planner.why_not.rules import RULES

Decide = Callable[[Problem, Limits], Timetable]
LineStatus = Literal["does", "in_vain", "undecided"]
PROBE = Limits(work=1)
MOST_PAIRS = 4
"""A menu of more than a few pairs is no help."""
MOST_PAIRS_TRIED = 60
MOST_DOUBTS = 1
"""So often may the limit come first on the way to a line; the next level up is no easier."""
PATIENCE, LEAST_SHARE = 0.5, 0.2
"""Each doubt halves what the next tries may take, down to a share: a day that is hard to decide
with one change is seldom easy with another, and whoever waits for the menu waits for all."""
_HOURS = ("finish_later", "start_earlier")


class Line(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One line of the menu.

    Attributes
    ----------
    kinds, subjects, levels
        What is changed, and by how much (seconds, a count, or a step of a choice); two
        entries where two changes go together. In vain, the levels are the greatest tried.
    status
        ``does``: with it there is a timetable; ``in_vain``: there is none whatever the
        amount; ``undecided``: the limit came first, shown as "?".
    least
        Whether the next smaller level is known not to do.
    finish_s
        The end of the timetable that was found with it [s from the day's start].
    changes
        The changes in words, one finding each.
    outcome
        What comes of it, in words.
    """

    kinds: tuple[str, ...]
    subjects: tuple[str, ...]
    levels: tuple[int, ...]
    status: LineStatus
    least: bool = False
    finish_s: int | None = None
    changes: tuple[Finding, ...]
    outcome: Finding


class _Tried(msgspec.Struct, frozen=True):
    """One level of one knob, tried: what the solver says of the event it makes."""

    level: int
    event: Event
    status: Status
    finish_s: int | None = None


OnLine = Callable[[Line], None]


def _tell_nobody(_line: Line) -> None:
    """Take no notice of a line before all are there."""


def menu(
    event: Event,
    teams: Iterable[Team],
    decide: Decide,
    on_line: OnLine = _tell_nobody,
    limits: Limits = PROBE,
) -> tuple[Line, ...]:
    """Return what would make an impossible day possible, one line for each kind of wish.

    Parameters
    ----------
    event, teams
        The day that cannot be done, and the teams still in it.
    decide
        ``callroom.planner.solve.decide``, handed in so that only the process that searches
        loads it.
    on_line
        Told of each line as soon as it is known.
    limits
        For each single try; without a limit in real seconds the menu is repeatable.

    Returns
    -------
    tuple of Line
        If no single change does, a few pairs follow: the one half as far as it goes, the
        other at its least.
    """
    tries = _Tries(tuple(teams), decide, limits)
    lines: list[Line] = []

    def serve(line: Line) -> None:
        lines.append(line)
        on_line(line)

    able = knobs(event)
    for knob in able:
        serve(tries.line(event, knob))
    if not any(line.status == "does" for line in lines):
        for line in islice(tries.pairs(event, able), MOST_PAIRS):
            serve(line)
    return tuple(lines)


class _Tries:
    """Tries levels: everything a try needs besides the event and the knob."""

    def __init__(self, teams: tuple[Team, ...], decide: Decide, limits: Limits) -> None:
        self._teams, self._decide, self._limits = teams, decide, limits
        self._share = 1.0

    def line(self, event: Event, knob: Knob) -> Line:
        """Return the line of one knob."""
        greatest = self._try(event, knob, knob.levels[-1])
        if greatest.status != "solved":
            vain: LineStatus = "in_vain" if greatest.status == "infeasible" else "undecided"
            return _line([(knob, greatest)], vain)
        best, least = self._bisect(event, knob, greatest)
        return _line([(knob, best)], "does", least=least)

    def pairs(self, event: Event, able: tuple[Knob, ...]) -> Iterator[Line]:
        """Yield pairs that do: the one half as far as it goes, the other as little as does."""
        able_pairs = (
            (one, other)
            for one, other in permutations(able, 2)
            if one.kind != other.kind and one.kind not in _HOURS
        )
        for one, other in islice(able_pairs, MOST_PAIRS_TRIED):
            first = self._try(event, one, one.levels[len(one.levels) // 2])
            then = self._try(first.event, other, other.levels[-1])
            if then.status == "solved":
                best, least = self._bisect(first.event, other, then)
                yield _line([(one, first), (other, best)], "does", least=least)

    def _bisect(self, event: Event, knob: Knob, does: _Tried) -> tuple[_Tried, bool]:
        """Return the least level found to do, and whether the one below is known not to."""
        low, high = -1, len(knob.levels) - 1
        sure, doubts = True, 0
        while high - low > 1 and doubts < MOST_DOUBTS:
            middle = (low + high) // 2
            tried = self._try(event, knob, knob.levels[middle])
            if tried.status == "solved":
                does, high = tried, middle
            else:
                low, sure = middle, tried.status == "infeasible"
                doubts += not sure
        return does, sure and high - low == 1

    def _try(self, event: Event, knob: Knob, level: int) -> _Tried:
        changed = knob.apply(event, level)
        try:
            problems = questions(changed, self._teams).problems
        except CallroomError:
            return _Tried(level, changed, "infeasible")
        answers = [self._decided(problem) for problem in problems]
        return _Tried(level, changed, worst(answers), answers[-1].finish_s)

    def _decided(self, problem: Problem) -> Timetable:
        answer = self._decide(problem, self._limits_now())
        if answer.status == "solved" and check_timetable(problem, answer):
            # The search and its judge disagree: nothing that is in doubt is offered.
            return Timetable(status="undecided")
        if answer.status == "undecided":
            self._share = max(LEAST_SHARE, self._share * PATIENCE)
        return answer

    def _limits_now(self) -> Limits:
        given, wall_s = self._limits, self._limits.wall_s
        return msgspec.structs.replace(
            given,
            work=given.work * self._share,
            wall_s=None if wall_s is None else wall_s * self._share,
        )


def _line(tried: list[tuple[Knob, _Tried]], status: LineStatus, *, least: bool = False) -> Line:
    finish_s = tried[-1][1].finish_s
    return Line(
        kinds=tuple(knob.kind for knob, _ in tried),
        subjects=tuple(knob.subject for knob, _ in tried),
        levels=tuple(one.level for _, one in tried),
        status=status,
        least=least,
        finish_s=finish_s,
        changes=tuple(said(knob, one.level, one.event) for knob, one in tried),
        outcome=_outcome(tried[-1][0], status, finish_s, least=least),
    )


def _outcome(knob: Knob, status: LineStatus, finish_s: int | None, *, least: bool) -> Finding:
    if status == "in_vain":
        return RULES.found("why_not.in_vain", "day")
    if status == "undecided":
        return RULES.found("why_not.undecided", "day")
    if len(knob.levels) == 1:
        return RULES.found("why_not.possible", "day", finish_at_s=finish_s)
    if least:
        return RULES.found("why_not.does_and_less_does_not", "day", finish_at_s=finish_s)
    return RULES.found("why_not.does", "day", finish_at_s=finish_s)
