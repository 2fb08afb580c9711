"""What would do where the crew is short: each answer found by making the rota with it."""

from collections.abc import Iterator

import msgspec

from callroom.model.finding import Finding
from callroom.model.rota import Rota
from callroom.planner.rota.plan_rota import make_rota
from callroom.planner.rota.problem import Hand, RotaProblem, peak
from callroom.planner.rota.rules import RULES

MOST_LONGER = 4
"""Rows of more heats than these beyond the wish are not offered."""


def remedies(problem: RotaProblem, rota: Rota) -> tuple[Finding, ...]:
    """Return single changes with which less stays open, each tried.

    For every short post, how many more people who are there all day fill it; and for judges,
    how many lanes stay open if more heats may be judged in a row. The rota is matched anew
    for each, without a search, so fewer people may yet do.
    """
    return (*_more_people(problem, rota), *_longer_rows(problem, rota))


def _more_people(problem: RotaProblem, rota: Rota) -> Iterator[Finding]:
    for post in sorted({shift.post for shift in rota.open_shifts()}):
        wanted = peak(tuple(shift for shift in problem.shifts if shift.post == post))
        few, enough = 0, 2 * wanted
        if _left_open(_with_people(problem, post, enough), post):
            continue
        while enough - few > 1:
            middle = (few + enough) // 2
            if _left_open(_with_people(problem, post, middle), post):
                few = middle
            else:
                enough = middle
        yield RULES.found("rota.more_people_would_do", f"post.{post}", post=post, people=enough)


def _with_people(problem: RotaProblem, post: str, people: int) -> RotaProblem:
    """Return the day with so many more who can do a post and nothing else, all day long."""
    more = tuple(
        Hand(id=f"more {number}", posts=frozenset({post}), experienced=True)
        for number in range(people)
    )
    return msgspec.structs.replace(problem, hands=(*problem.hands, *more))


def _longer_rows(problem: RotaProblem, rota: Rota) -> Iterator[Finding]:
    fewest = sum(shift.post == "judge" for shift in rota.open_shifts())
    for heats in range(problem.most_in_a_row + 1, problem.most_in_a_row + MOST_LONGER + 1):
        if not fewest:
            return
        left = _left_open(msgspec.structs.replace(problem, most_in_a_row=heats), "judge")
        if left < fewest:
            fewest = left
            yield RULES.found("rota.longer_rows_would_help", "day", heats=heats, left=left)


def _left_open(problem: RotaProblem, post: str) -> int:
    return sum(shift.post == post for shift in make_rota(problem).open_shifts())
