"""What comes in turns, bounded turn by turn.

Waves and finals are links from every block to every block behind it; a search sees in them only
pairs. But a turn cannot begin before the one before it can be over, and when that is, counting
tells: of its floors, of its judges and of whatever else is shared. So every heat of a later turn
gets an hour before which it cannot start.
"""

from msgspec.structs import replace

from callroom.planner.judged import shared_s
from callroom.planner.problem import Problem, Slot
from callroom.planner.solve.bound import certificate_s


def tightened(problem: Problem) -> tuple[Problem, int]:
    """Return a day with the same timetables, and a finish that none of them beats [s].

    The hour the floors close is not looked at; links must not run in a circle.
    """
    opens_s = problem.opens_s
    table = dict(problem.slot_table())
    for turn in problem.turns:
        for name in turn:
            table[name] = _not_before(table[name], opens_s)
        alone = _only(problem, tuple(table[name] for name in turn), opens_s)
        if alone.slots:
            opens_s = max(certificate_s(alone), shared_s(alone))
    tight = replace(problem, slots=tuple(table[slot.id] for slot in problem.slots))
    return tight, max(opens_s, certificate_s(tight), shared_s(tight))


def _not_before(slot: Slot, opens_s: int) -> Slot:
    return replace(slot, opens_s=opens_s if slot.opens_s is None else max(slot.opens_s, opens_s))


def _only(problem: Problem, slots: tuple[Slot, ...], opens_s: int) -> Problem:
    """Return the day with these slots alone, and everything that concerns them."""
    names = {slot.id for slot in slots}
    return replace(
        problem,
        slots=slots,
        opens_s=opens_s,
        links=tuple(one for one in problem.links if {one.before, one.after} <= names),
        eithers=(),
        waits=(),
        early=(),
        turns=(),
        pools=tuple(
            replace(pool, needs=tuple(need for need in pool.needs if need.slot in names))
            for pool in problem.pools
        ),
    )
