"""A choice of plans: none of them is beaten in finish, longest wait and spare lanes at once."""

from collections.abc import Callable, Iterable, Iterator
from typing import Literal, NamedTuple

import msgspec
from msgspec.structs import replace

from callroom.model.errors import CallroomError
from callroom.model.event import Event
from callroom.model.plan import Plan
from callroom.model.team import Team
from callroom.model.wishes import Wishes
from callroom.planner.plan import plan_of
from callroom.planner.prices.measures import longest_waits, spare_lanes
from callroom.planner.problem import Problem
from callroom.planner.questions import questions, worst
from callroom.planner.timetable import Limits, Timetable
from callroom.planner.what_if.knobs import MINUTE, hold

Solver = Callable[[Problem, Limits], Timetable]
OptionName = Literal[
    "as_wished", "finals_by_wave", "no_waves", "mixed", "pure", "lane_held", "calm", "calmer"
]
EACH = Limits(work=4)
MOST = 4
_CALM_S = {"calm": 15 * MINUTE, "calmer": 30 * MINUTE}


class Option(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One plan to choose.

    Attributes
    ----------
    name
        What is different: nothing (``as_wished``); where finals are last and divisions come in
        waves, finals at the end of their wave (``finals_by_wave``) or ``no_waves``, as either
        spares the finalists of an early wave their wait; heats ``mixed`` or ``pure``, one more lane
        of every floor held free (``lane_held``), a finish up to 15 (``calm``) or 30 minutes
        (``calmer``) later so that nobody waits long.
    finish_s, longest_wait_s
        End of the day [s from its start], and the longest wait of any team [s].
    spare_lanes
        Lanes that every floor can lose before some workout needs another heat.
    event
        The event with that change, which the plan was made for.
    """

    name: OptionName
    finish_s: int
    longest_wait_s: int
    spare_lanes: int
    plan: Plan
    event: Event

    def beats(self, other: "Option") -> bool:
        """Whether this is at least as good in all three, and better in one."""
        mine = self.finish_s, self.longest_wait_s, -self.spare_lanes
        theirs = other.finish_s, other.longest_wait_s, -other.spare_lanes
        return mine != theirs and all(a <= b for a, b in zip(mine, theirs, strict=True))


class _Asked(NamedTuple):
    name: OptionName
    event: Event
    solver: Solver


def frontier(
    event: Event,
    teams: Iterable[Team],
    solve: Solver,
    calmest: Solver,
    limits: Limits = EACH,
) -> tuple[Option, ...]:
    """Return up to four plans of a day, the earliest finish first.

    Parameters
    ----------
    event, teams
        The day, and the teams still in it.
    solve, calmest
        Those of ``callroom.planner.solve``, handed in so that only the process that searches
        loads them.
    limits
        For each plan.
    """
    entered = tuple(teams)
    found = [
        option
        for asked in _asked(event, solve)
        if (option := _option(asked, entered, limits)) is not None
    ]
    if not found:
        return ()
    # The days of an event of several say themselves how late they may end.
    for name, later_s in () if event.wishes.days else _CALM_S.items():
        by_s = found[0].finish_s + later_s
        if event.wishes.finish_by_s is not None:
            by_s = min(by_s, event.wishes.finish_by_s)
        later = replace(event, wishes=replace(event.wishes, finish_by_s=by_s))
        asked = _Asked("calm" if name == "calm" else "calmer", later, calmest)
        if (option := _option(asked, entered, limits)) is not None:
            found.append(option)
    return _best(found)


def _asked(event: Event, solve: Solver) -> Iterator[_Asked]:
    mixed = event.wishes.mixed_heats
    yield _Asked("as_wished", event, solve)
    if event.wishes.finals_last and event.wishes.waves:
        wishes = event.wishes
        yield _Asked("finals_by_wave", _with(event, replace(wishes, finals_last=False)), solve)
        yield _Asked("no_waves", _with(event, replace(wishes, waves=())), solve)
    other = replace(event, wishes=replace(event.wishes, mixed_heats=not mixed))
    yield _Asked("pure" if mixed else "mixed", other, solve)
    held = event
    for floor in event.floors:
        if len(floor.open_lanes) > 1:
            held = hold(floor.id)(held, 1)
    yield _Asked("lane_held", held, solve)


def _with(event: Event, wishes: Wishes) -> Event:
    return replace(event, wishes=wishes)


def _option(asked: _Asked, teams: tuple[Team, ...], limits: Limits) -> Option | None:
    try:
        heats, problems = questions(asked.event, teams)
    except CallroomError:
        return None
    answers = [asked.solver(problem, limits) for problem in problems]
    placed = tuple(place for answer in answers for place in answer.placed)
    if worst(answers) != "solved" or not placed:
        return None
    bound_s = answers[-1].certificate_s
    blank = Plan(revision=1, inputs_digest="", heats=(), bound_s=bound_s)
    plan = plan_of(asked.event, heats, placed, blank)
    return Option(
        name=asked.name,
        finish_s=plan.finish_s,
        longest_wait_s=max(longest_waits(asked.event, plan).values(), default=0),
        # A lane that the plan itself holds free is one that can be lost.
        spare_lanes=spare_lanes(asked.event, teams, plan) + (asked.name == "lane_held"),
        plan=plan,
        event=asked.event,
    )


def _is_fair(option: Option, other: Option) -> bool:
    """Whether another plan can beat one: not the day as wished by giving up finals or waves."""
    return option.name != "as_wished" or other.name not in {"finals_by_wave", "no_waves"}


def _best(found: list[Option]) -> tuple[Option, ...]:
    """Return the options that none beats; of equal ones the first; at most four."""
    kept: list[Option] = []
    for option in found:
        same = any(
            (one.finish_s, one.longest_wait_s, one.spare_lanes)
            == (option.finish_s, option.longest_wait_s, option.spare_lanes)
            for one in kept
        )
        if not same and not any(other.beats(option) for other in found if _is_fair(option, other)):
            kept.append(option)
    return tuple(sorted(kept[:MOST], key=lambda option: (option.finish_s, option.longest_wait_s)))
