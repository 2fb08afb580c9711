"""The order of the search: counting, whole blocks, single heats, aim after aim."""

import msgspec

from callroom.model.finding import Finding
from callroom.planner.overload import circles, overloads
from callroom.planner.problem import Problem
from callroom.planner.rules import RULES
from callroom.planner.solve.aims import changeovers, early, longest_wait
from callroom.planner.solve.build import build
from callroom.planner.solve.frame import Frame
from callroom.planner.solve.stages import Search, Step, hint, pursue, settle
from callroom.planner.solve.turns import tightened
from callroom.planner.timetable import Limits, OnIncumbent, Placed, Timetable, ignore


def solve(
    problem: Problem, limits: Limits | None = None, on_incumbent: OnIncumbent = ignore
) -> Timetable:
    """Find the best timetable of a day.

    Parameters
    ----------
    problem
        The day; whole seconds throughout.
    limits
        Seed, workers and how long to think; see :class:`Limits` for what is repeatable.
    on_incumbent
        Told of each better timetable while the search runs; every one keeps all rules.

    Returns
    -------
    Timetable
        An impossible day is an answer with findings, not an exception.
    """
    if not problem.slots:
        return Timetable(status="solved", finish_s=problem.opens_s)
    if found := circles(problem):
        return Timetable(status="infeasible", findings=found)
    problem, least_s = tightened(problem)
    if found := overloads(problem, least_s):
        return Timetable(status="infeasible", certificate_s=least_s, findings=found)
    search = Search(limits or Limits(), on_incumbent)
    frame, steps = _finish(problem, least_s, search)
    reached = [step for step in steps if step.placed]
    if not reached:
        impossible = steps[-1].outcome == "infeasible"
        return Timetable(
            status="infeasible" if impossible else "undecided",
            certificate_s=least_s,
            findings=(_why(problem, least_s, search, impossible=impossible),),
        )
    placed = reached[-1].placed
    if frame is not None and steps[-1].placed:
        placed, more = _comfort(frame, placed, search)
        reached += more
    return Timetable(
        status="solved",
        placed=placed,
        finish_s=max(place.start_s + problem.slot_table()[place.slot].length_s for place in placed),
        certificate_s=least_s,
        aims=tuple(step.aim for step in reached if step.aim is not None),
    )


def _finish(problem: Problem, least_s: int, search: Search) -> tuple[Frame | None, list[Step]]:
    """Pursue the finish: in whole blocks first, then heat by heat from there if allowed.

    Blocks are far fewer than heats and seldom cost anything, so they are a good start; but
    what is proven of blocks is no bound on heats, and a day may be possible only in heats.
    """
    steps: list[Step] = []
    in_blocks = problem.shape == "blocks"
    first = None if in_blocks else search.listed(problem, least_s)
    if not in_blocks and any(len(block) > 1 for block in problem.blocks()):
        whole = build(msgspec.structs.replace(problem, shape="blocks"), least_s)
        if whole is not None:
            steps.append(pursue(whole, "finish", whole.finish, search, 0.5, quick=True))
    frame = build(problem, least_s)
    if frame is None:
        return None, [*steps, Step("infeasible")]
    if steps and steps[0].placed:
        hint(frame, steps[0].placed)
        reached = steps[0].aim
        if reached is not None and reached.value_s <= least_s:
            # Counting has ruled out anything earlier, whatever takes turns.
            frame.model.add(frame.finish <= reached.value_s)
            proven = msgspec.structs.replace(reached, shape="heats", bound_s=reached.value_s)
            return frame, [*steps, steps[0]._replace(aim=proven)]
    if first is not None and first.aim is not None:
        reached_s = min((step.aim.value_s for step in steps if step.aim is not None), default=None)
        if reached_s is None or first.aim.value_s < reached_s:
            hint(frame, first.placed)
            steps.append(first._replace(aim=None))  # a start, not an aim that was pursued
    steps.append(pursue(frame, "finish", frame.finish, search, 0.6, quick=not in_blocks))
    return frame, steps


def _why(problem: Problem, least_s: int, search: Search, *, impossible: bool) -> Finding:
    """Say why there is no timetable: by the finish that would do, if that is what is short."""
    heats = len(problem.slots)
    if not impossible:
        return RULES.found("planner.no_answer_in_time", "day", heats=heats)
    if problem.closes_s is not None:
        open_day = msgspec.structs.replace(problem, closes_s=None)
        search.tell = ignore  # what is met from here on is no plan for the day asked about
        _, steps = _finish(open_day, least_s, search)
        if (aim := steps[-1].aim) is not None:
            maybe = "" if aim.proven else "maybe_"
            return RULES.found(
                f"planner.finish_by_{maybe}too_early",
                "day",
                finish_at_s=aim.value_s,
                closes_at_s=problem.closes_s,
                over_s=aim.value_s - problem.closes_s,
            )
    return RULES.found("planner.wishes_conflict", "day", heats=heats)


def _comfort(
    frame: Frame, placed: tuple[Placed, ...], search: Search
) -> tuple[tuple[Placed, ...], list[Step]]:
    """With the finish settled, pursue what makes the day bearable."""
    steps: list[Step] = []
    if frame.problem.waits:
        steps.append(pursue(frame, "longest_wait", longest_wait(frame), search, 0.6))
    if frame.problem.shape == "blocks":
        steps.append(pursue(frame, "changeovers", changeovers(frame), search, 0.7))
    if frame.problem.early:
        steps.append(pursue(frame, "early", early(frame), search, 0.7))
    reached = [step for step in steps if step.placed]
    if reached:
        placed = reached[-1].placed
    return settle(frame, placed, search), reached
