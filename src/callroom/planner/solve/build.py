"""The whole model of a day, put together."""

from callroom.planner.problem import Problem
from callroom.planner.solve.cuts import add_loads
from callroom.planner.solve.frame import Frame, build_frame
from callroom.planner.solve.order import add_blocks, add_heats, add_links, add_ranks, add_rhythm


def build(problem: Problem, certificate_s: int) -> Frame | None:
    """Return the model of a day, or None if some heat has no place at all.

    `certificate_s` is a finish that no timetable beats [s]; saying so saves its proof.
    """
    frame = build_frame(problem)
    if frame is None:
        return None
    frame.model.add(frame.finish >= certificate_s)
    add_links(frame)
    add_ranks(frame)
    if problem.rhythm:
        add_rhythm(frame)
    if problem.shape == "blocks":
        add_blocks(frame)
    else:
        add_heats(frame)
    add_loads(frame)
    if problem.judges_limit is not None:
        _add_judges(frame, problem.judges_limit)
    return frame


def _add_judges(frame: Frame, limit: int) -> None:
    """Let no more judges be at work at once than there are, over all floors."""
    intervals, demands = [], []
    for slot in frame.problem.slots:
        if slot.judges:
            length = frame.units(slot.length_s)
            intervals.append(
                frame.model.new_fixed_size_interval_var(frame.start[slot.id], length, "judged")
            )
            demands.append(slot.judges)
    frame.model.add_cumulative(intervals, demands, limit)
