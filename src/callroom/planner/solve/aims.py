"""What a good day is, as expressions to be made small, one after the other."""

from itertools import permutations

from ortools.sat.python import cp_model

from callroom.planner.solve.frame import Frame


def longest_wait(frame: Frame) -> cp_model.IntVar:
    """Return the longest time any team waits between two heats, breaks not counted [s].

    Only breaks that rest every floor are taken off: during the others a team still waits.
    """
    grid_s = frame.problem.grid_s
    longest = frame.model.new_int_var(0, frame.horizon_s, "longest wait")
    rests = _whole_day_breaks(frame)
    for before, after in frame.problem.waits:
        gap = (frame.start[after] - frame.start[before]) * grid_s
        off = [
            (end_s - start_s) * (_before(frame, before, start_s) - _before(frame, after, start_s))
            for start_s, end_s in rests
        ]
        net = gap - frame.table[before].length_s - cp_model.LinearExpr.sum(off)
        frame.model.add(longest >= net)
    return longest


def changeovers(frame: Frame) -> cp_model.IntVar:
    """Return the time spent on changeovers between blocks, all floors together [s].

    A round trip through the blocks of each floor counts what follows what; only for
    timetables in whole blocks.
    """
    total: list[cp_model.LinearExpr] = []
    for floor in frame.problem.floors:
        blocks = [b for b in frame.problem.blocks() if (b[0].id, floor) in frame.on_floor]
        if len(blocks) < 2:
            continue
        trip: list[tuple[int, int, cp_model.LiteralT]] = []
        for place, block in enumerate(blocks, start=1):
            trip.append((0, place, frame.model.new_bool_var("first")))
            trip.append((place, 0, frame.model.new_bool_var("last")))
            here = frame.present(block[0], floor)
            if here is not frame.yes:
                trip.append((place, place, ~here))
        for (i, one), (j, other) in permutations(enumerate(blocks, start=1), 2):
            follows = frame.model.new_bool_var("follows")
            trip.append((i, j, follows))
            frame.follow(one[-1].id, other[0].id, frame.apart(one[-1], other[0]), follows)
            total.append(frame.problem.changeover_s(one[-1], other[0]) * follows)
        if any(frame.present(block[0], floor) is not frame.yes for block in blocks):
            trip.append((0, 0, frame.model.new_bool_var("unused")))
        frame.model.add_circuit(trip)
    spent = frame.model.new_int_var(0, frame.horizon_s * len(frame.problem.floors), "changeovers")
    frame.model.add(spent == cp_model.LinearExpr.sum(total))
    return spent


def early(frame: Frame) -> cp_model.IntVar:
    """Return the sum of the ends of the last heats, block by block, that are wished early [s]."""
    last = {
        (block[-1].workout, block[-1].block): block[-1]
        for block in frame.problem.blocks()
        if block[-1].id in frame.problem.early
    }
    ends = [frame.start[slot.id] * frame.problem.grid_s + slot.length_s for slot in last.values()]
    total = frame.model.new_int_var(0, max(1, len(ends)) * frame.horizon_s, "early")
    frame.model.add(total == cp_model.LinearExpr.sum(ends))
    return total


def all_starts(frame: Frame) -> cp_model.LinearExpr:
    """Return the sum of all starts [grid units]: small when nobody dawdles."""
    return cp_model.LinearExpr.sum(list(frame.start.values()))


def _before(frame: Frame, name: str, start_s: int) -> cp_model.LinearExpr:
    """Return 1 if a heat is over before a break of all floors starts, else 0."""
    early = [
        seat.taken
        for seat in frame.seats[name]
        if (end_s := frame.problem.stretches(seat.floor)[seat.stretch].end_s) is not None
        and end_s <= start_s
    ]
    return cp_model.LinearExpr.sum(early)


def _whole_day_breaks(frame: Frame) -> list[tuple[int, int]]:
    """Return when every floor rests, as disjoint spans in time order [s]."""
    shared = (pause for pause in frame.problem.breaks if not pause.floors)
    resting = sorted(shared, key=lambda pause: pause.start_s)
    spans: list[tuple[int, int]] = []
    for pause in resting:
        if spans and pause.start_s <= spans[-1][1]:
            spans[-1] = spans[-1][0], max(spans[-1][1], pause.end_s)
        else:
            spans.append((pause.start_s, pause.end_s))
    return spans
