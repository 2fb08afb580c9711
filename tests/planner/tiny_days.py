"""Random tiny days for property tests: a handful of heats, seconds instead of minutes."""

from itertools import combinations, pairwise
from typing import Literal

from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.planner import Break, Changeover, Dip, Either, Link, Need, Pool, Problem, Slot


@st.composite
def tiny_days(draw: st.DrawFn, *, most_slots: int = 5) -> Problem:
    """Draw a day of at most `most_slots` heats over one or two floors."""
    floors = ("f1", "f2")[: draw(st.integers(1, 2))]
    workouts = draw(st.integers(1, 3))
    divisions = draw(st.integers(1, 2))
    slots: list[Slot] = []
    for w in range(workouts):
        length_s = draw(st.integers(1, 4))
        where = tuple(sorted(draw(st.sets(st.sampled_from(floors), min_size=1))))
        for d in range(divisions):
            slots += [
                Slot(
                    id=f"w{w}-d{d}-{rank}",
                    workout=f"w{w}",
                    block=f"d{d}",
                    rank=rank,
                    floors=where,
                    length_s=length_s,
                    judges=draw(st.integers(0, 3)),
                )
                for rank in range(1, draw(st.integers(1, 2)) + 1)
            ]
    slots = slots[:most_slots]
    pairs, lag_s = _meetings(slots), draw(st.integers(0, 3))
    links = tuple(Link(before=a.id, after=b.id, lag_s=lag_s) for a, b in pairs)
    listed = draw(st.booleans())
    same_s, division_s, workout_s = sorted(draw(st.tuples(*[st.integers(0, 3)] * 3)))
    shapes: tuple[Literal["heats", "blocks"], ...] = ("heats", "blocks")
    shape = draw(st.sampled_from(shapes))
    return Problem(
        floors=floors,
        slots=tuple(slots),
        links=links if listed else (),
        eithers=()
        if listed
        else tuple(
            Either(one=link, other=Link(before=link.after, after=link.before, lag_s=link.lag_s))
            for link in links
        ),
        waits=tuple((a.id, b.id) for a, b in pairs) if listed else (),
        breaks=draw(_breaks(floors)),
        changeover=Changeover(same_s=same_s, division_s=division_s, workout_s=workout_s),
        opens_s=draw(st.integers(0, 2)),
        grid_s=draw(st.integers(1, 3)),
        rhythm=shape == "blocks" and draw(st.booleans()),
        shape=shape,
        judges_limit=draw(st.sampled_from((None, 3, 5))),
    )


@st.composite
def wished_days(draw: st.DrawFn, *, most_slots: int = 5) -> Problem:
    """Draw a tiny day with hours of single heats, something shared, and a division wished early."""
    day = draw(tiny_days(most_slots=most_slots))
    early = draw(st.sampled_from(("d0", "d1", "")))
    slots = tuple(
        replace(slot, opens_s=draw(st.sampled_from((None, None, 4))))
        if place % 2
        else replace(slot, closes_s=draw(st.sampled_from((None, None, 22))))
        for place, slot in enumerate(day.slots)
    )
    needs = tuple(
        Need(
            slot=slot.id,
            count=draw(st.integers(0, 2)),
            from_s=draw(st.integers(-3, 1)),
            length_s=draw(st.integers(0, 4)),
        )
        for slot in slots
    )
    turns = (
        tuple(slot.id for slot in slots if slot.block == "d0"),
        tuple(slot.id for slot in slots if slot.block == "d1"),
    )
    in_turn = all(turns) and draw(st.booleans())
    start_s = draw(st.integers(0, 6))
    dip = Dip(start_s=start_s, end_s=start_s + draw(st.integers(1, 3)), count=1)
    return replace(
        day,
        slots=slots,
        pools=(Pool(id="bikes", limit=2, needs=needs, dips=draw(st.sampled_from(((), (dip,))))),),
        turns=turns if in_turn else (),
        links=day.links
        + tuple(Link(before=a, after=b) for a in turns[0] for b in turns[1] if in_turn),
        least_pitch_s=draw(st.sampled_from((0, 0, 4))),
        early=tuple(slot.id for slot in slots if slot.block == early),
    )


@st.composite
def _breaks(draw: st.DrawFn, floors: tuple[str, ...]) -> tuple[Break, ...]:
    times = sorted(draw(st.sets(st.integers(3, 16), max_size=4)))
    return tuple(
        Break(
            id=f"b{start_s}",
            start_s=start_s,
            end_s=end_s,
            floors=draw(st.sampled_from(((), (floors[0],)))),
        )
        for start_s, end_s in list(pairwise(times))[::2]
    )


def _meetings(slots: list[Slot]) -> list[tuple[Slot, Slot]]:
    """Pairs of heats that share a team: the same rank of a division in two workouts."""
    return [
        (one, other)
        for one, other in combinations(slots, 2)
        if one.workout != other.workout and (one.block, one.rank) == (other.block, other.rank)
    ]
