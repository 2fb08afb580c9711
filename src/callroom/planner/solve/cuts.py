"""The counting of ``loads`` laid over the seats of a frame."""

from ortools.sat.python import cp_model

from callroom.planner.chains import round_up
from callroom.planner.solve.frame import Frame
from callroom.planner.solve.loads import Portion, load_of

Taken = dict[str, cp_model.IntVar]


def add_loads(frame: Frame) -> None:
    """Keep each open stretch of each floor within its time, and the finish behind it."""
    for floor in frame.problem.floors:
        for index, stretch in enumerate(frame.problem.stretches(floor)):
            taken = {
                name: seat.taken
                for name, seats in frame.seats.items()
                for seat in seats
                if (seat.floor, seat.stretch) == (floor, index)
            }
            if taken:
                _bind(frame, taken, stretch.start_s, stretch.end_s)


def _bind(frame: Frame, taken: Taken, start_s: int, end_s: int | None) -> None:
    model, bounds = frame.model, frame.chains
    load = load_of(model, frame.problem, _portions(frame, taken))
    heads = [head for name in taken if (head := bounds.heads[name]) is not None]
    from_s = round_up(max(start_s, min(heads)), frame.problem.grid_s)
    if end_s is not None:
        model.add(load.needed <= end_s - from_s + load.spare_s)
    behind_s = min(bounds.run_outs[name] - frame.table[name].length_s for name in taken)
    used = _any_of(frame, list(taken.values()))
    rule = model.add(frame.finish >= from_s + load.needed - load.spare_s + behind_s)
    if used is not frame.yes:
        rule.only_enforce_if(used)


def _portions(frame: Frame, taken: Taken) -> list[Portion]:
    kinds: dict[tuple[str, str, int], list[str]] = {}
    for name in taken:
        slot = frame.table[name]
        kinds.setdefault((slot.workout, slot.block, slot.length_s), []).append(name)
    portions = []
    for names in kinds.values():
        here = [taken[name] for name in names]
        count = cp_model.LinearExpr.sum(here)
        portions.append(Portion(frame.table[names[0]], count, _any_of(frame, here)))
    return portions


def _any_of(frame: Frame, literals: list[cp_model.IntVar]) -> cp_model.IntVar:
    """Return a literal that holds if any of `literals` does."""
    if frame.yes in literals:
        return frame.yes
    if len(literals) == 1:
        return literals[0]
    some = frame.model.new_bool_var("some")
    for literal in literals:
        frame.model.add_implication(literal, some)
    return some
