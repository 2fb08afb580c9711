"""What follows what: links, blocks, and who comes first where two share a floor."""

from itertools import combinations, pairwise

from ortools.sat.python import cp_model

from callroom.planner.chains import arcs
from callroom.planner.problem import Link, Slot
from callroom.planner.solve.frame import Frame, Order

Block = tuple[Slot, ...]


def add_links(frame: Frame) -> None:
    """Lay down every link, and a literal for each choice between two."""
    for link in frame.problem.links:
        frame.follow(link.before, link.after, _lag(frame, link))
    for either in frame.problem.eithers:
        first = frame.model.new_bool_var("either")
        frame.orders.append(Order(first, either.one.before, either.one.after))
        for link, chosen in ((either.one, first), (either.other, ~first)):
            rule = frame.model.add(
                frame.start[link.after] >= frame.start[link.before] + _lag(frame, link)
            )
            rule.only_enforce_if(chosen)


def add_ranks(frame: Frame) -> None:
    """Keep the heats of each block in rank order, apart where they share a floor."""
    for block in frame.problem.blocks():
        for before, after in pairwise(block):
            frame.follow(before.id, after.id, 0)
        for before, after in combinations(block, 2):
            for floor in _shared(frame, before, after):
                given = frame.present(before, floor), frame.present(after, floor)
                frame.follow(before.id, after.id, frame.apart(before, after), *given)


def add_rhythm(frame: Frame) -> None:
    """Space the heats of a block evenly, as close as the grid allows, except over a break."""
    for block in frame.problem.blocks():
        for before, after in pairwise(block):
            pitch = frame.apart(before, after)
            seats = {(seat.floor, seat.stretch): seat.taken for seat in frame.seats[after.id]}
            for seat in frame.seats[before.id]:
                other = seats.get((seat.floor, seat.stretch))
                if other is None:
                    continue
                rule = frame.model.add(frame.start[after.id] <= frame.start[before.id] + pitch)
                rule.only_enforce_if([seat.taken, other])


def add_blocks(frame: Frame) -> None:
    """Run each block on one floor without another block in between."""
    blocks = frame.problem.blocks()
    for block in blocks:
        for slot in block[1:]:
            for floor in slot.floors:
                _same(frame, (block[0].id, floor), (slot.id, floor))
    for floor in frame.problem.floors:
        mine = [block for block in blocks if (block[0].id, floor) in frame.on_floor]
        frame.model.add_no_overlap(
            _stay(frame, block, floor, frame.problem.changeover.division_s) for block in mine
        )
        for one, other in combinations(mine, 2):
            _first_of(frame, one, other, floor)


def add_heats(frame: Frame) -> None:
    """Keep every two heats of a floor apart, whichever comes first."""
    sure = _sure_order(frame)
    for floor in frame.problem.floors:
        mine = [slot for slot in frame.problem.slots if (slot.id, floor) in frame.on_floor]
        frame.model.add_no_overlap(
            _stay(frame, (slot,), floor, frame.problem.changeover.same_s) for slot in mine
        )
        for one, other in combinations(mine, 2):
            if (one.workout, one.block) == (other.workout, other.block):
                continue  # add_ranks has kept them apart
            if other.id in sure[one.id] or one.id in sure[other.id]:
                before, after = (one, other) if other.id in sure[one.id] else (other, one)
                given = frame.present(one, floor), frame.present(other, floor)
                frame.follow(before.id, after.id, frame.apart(before, after), *given)
            else:
                _first_of(frame, (one,), (other,), floor)


def _first_of(frame: Frame, one: Block, other: Block, floor: str) -> None:
    """Lay down that one of two blocks on a floor is over before the other starts.

    The changeovers obey the triangle inequality (see ``Changeover``), so saying this of
    every pair says it of neighbours too, and says no more.
    """
    first = frame.model.new_bool_var(f"{one[0].id} before {other[0].id}")
    frame.orders.append(Order(first, one[0].id, other[0].id))
    given = frame.present(one[0], floor), frame.present(other[0], floor)
    frame.follow(one[-1].id, other[0].id, frame.apart(one[-1], other[0]), first, *given)
    frame.follow(other[-1].id, one[0].id, frame.apart(other[-1], one[0]), ~first, *given)


def _stay(frame: Frame, block: Block, floor: str, behind_s: int) -> cp_model.IntervalVar:
    """Return the time a block keeps a floor, with the shortest changeover behind it."""
    first, last = frame.start[block[0].id], frame.start[block[-1].id]
    length = frame.units(block[-1].length_s + behind_s)
    end = last + length
    here = frame.present(block[0], floor)
    if len(block) == 1:
        return frame.model.new_optional_fixed_size_interval_var(first, length, here, "stay")
    size = frame.model.new_int_var(0, frame.units(frame.horizon_s) + length, "stay")
    return frame.model.new_optional_interval_var(first, size, end, here, "stay")


def _same(frame: Frame, one: tuple[str, str], other: tuple[str, str]) -> None:
    """Lay down that two heats of a block are both on a floor, or neither."""
    here, there = frame.on_floor.get(one), frame.on_floor.get(other)
    if here is None and there is None:
        return
    if here is None or there is None:
        frame.model.add((there if here is None else here) == 0)
    elif here is not there:
        frame.model.add(here == there)


def _shared(frame: Frame, one: Slot, other: Slot) -> list[str]:
    return [
        floor
        for floor in one.floors
        if (one.id, floor) in frame.on_floor and (other.id, floor) in frame.on_floor
    ]


def _lag(frame: Frame, link: Link) -> int:
    return frame.units(frame.table[link.before].length_s + link.lag_s)


def _sure_order(frame: Frame) -> dict[str, set[str]]:
    """Return, for each slot, those that come after it in every timetable."""
    after: dict[str, set[str]] = {slot.id: set() for slot in frame.problem.slots}
    out: dict[str, list[str]] = {slot.id: [] for slot in frame.problem.slots}
    for arc in arcs(frame.problem):
        out[arc.before].append(arc.after)
    for name in reversed(frame.chains.order):
        for later in out[name]:
            after[name] |= {later} | after[later]
    return after
