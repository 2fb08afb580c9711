"""The whole model of a day, put together."""

from callroom.planner.problem import Pool, Problem
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
    for pool in problem.pools:
        _add_pool(frame, pool)
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


def _add_pool(frame: Frame, pool: Pool) -> None:
    """Let no more be needed of a pool at once than it has then; in seconds, for all offsets."""
    intervals, demands = [], []
    for need in pool.needs:
        if need.count and need.length_s:
            from_s = frame.start[need.slot] * frame.problem.grid_s + need.from_s
            intervals.append(
                frame.model.new_fixed_size_interval_var(from_s, need.length_s, "needed")
            )
            demands.append(need.count)
    for dip in pool.dips:
        length_s = dip.end_s - dip.start_s
        intervals.append(frame.model.new_fixed_size_interval_var(dip.start_s, length_s, "dip"))
        demands.append(min(dip.count, pool.limit))
    if intervals:
        frame.model.add_cumulative(intervals, demands, pool.limit)
