"""The timetable as a question: heats to place on floors, and what they must keep to.

This is what ``solve`` is asked and what ``check`` holds its answer against. It knows
nothing of teams: which heats share a team has become a :class:`Link` between them. A
job shop is the special case in which every job is a division of its own, every machine a
floor and every operation a workout.

All times are whole seconds from the day's start instant; anything else is refused here,
because the solver behind it would refuse it without saying where.
"""

from collections import Counter
from collections.abc import Mapping
from itertools import chain
from types import MappingProxyType
from typing import Literal, NamedTuple

import msgspec

from callroom.model.errors import CallroomError


class BadProblem(CallroomError):
    """A timetable question that contradicts itself, whatever the solver might say."""


def _whole(holder: msgspec.Struct, names: tuple[str, ...]) -> None:
    """Refuse the first of the named fields that is not a plain whole number."""
    for name in names:
        value = getattr(holder, name)
        if type(value) is not int:
            kind, subject = type(holder).__name__, str(getattr(holder, "id", ""))
            raise BadProblem(
                "planner.not_whole", subject=subject, where=f"{kind}.{name}", given=repr(value)
            )


def _unique(kind: str, names: tuple[str, ...]) -> None:
    for name, times in Counter(names).items():
        if times > 1:
            raise BadProblem("planner.named_twice", kind=kind, subject=name)


def _known(kind: str, name: str, known: set[str]) -> None:
    if name not in known:
        raise BadProblem("planner.unknown", kind=kind, subject=name)


class Stretch(NamedTuple):
    """An open piece of a floor's day, from `start_s` to `end_s` (None: no end) [s]."""

    start_s: int
    end_s: int | None


class Break(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A pinned piece of the day in which the named floors rest (none named: all floors)."""

    id: str
    start_s: int
    end_s: int
    floors: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse times that are no whole seconds, and a break that ends before it starts."""
        _whole(self, ("start_s", "end_s"))
        if self.end_s <= self.start_s:
            raise BadProblem("planner.break_backwards", subject=self.id, end_at_s=self.end_s)


class Changeover(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Least time between two heats on one floor [s].

    They may not fall: another division takes at least as long as the same one, another
    workout at least as long as another division. Only then does keeping every *pair* of
    heats apart say the same as keeping neighbours apart.
    """

    same_s: int = 0
    division_s: int = 0
    workout_s: int = 0

    def __post_init__(self) -> None:
        """Refuse times that are no whole seconds, negative, or fall."""
        _whole(self, ("same_s", "division_s", "workout_s"))
        if not 0 <= self.same_s <= self.division_s <= self.workout_s:
            raise BadProblem(
                "planner.changeovers_fall",
                same_s=self.same_s,
                division_s=self.division_s,
                workout_s=self.workout_s,
            )


class Slot(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One heat to be placed.

    Attributes
    ----------
    block
        Heats of one workout and the same division (or the same mix) form a block; they run
        in the order of `rank`, so that the leaders come last.
    floors
        Where it may be run; exactly one is chosen.
    length_s
        How long it holds the floor, from walk-on to kit strip [s].
    judges
        How many judges it needs at once.
    opens_s, closes_s
        It neither starts before the one nor ends after the other [s]; None: whenever.
    """

    id: str
    workout: str
    block: str
    rank: int
    floors: tuple[str, ...]
    length_s: int
    judges: int = 0
    opens_s: int | None = None
    closes_s: int | None = None

    def __post_init__(self) -> None:
        """Refuse numbers that are not whole, a length of nothing, and a heat without floor."""
        _whole(self, ("rank", "length_s", "judges"))
        _whole(self, tuple(n for n in ("opens_s", "closes_s") if getattr(self, n) is not None))
        if self.length_s <= 0 or self.judges < 0 or not self.floors:
            raise BadProblem(
                "planner.slot_empty", subject=self.id, length_s=self.length_s, judges=self.judges
            )


class Link(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The heat `after` starts at least `lag_s` after the heat `before` has left its floor."""

    before: str
    after: str
    lag_s: int = 0

    def __post_init__(self) -> None:
        """Refuse a lag that is no whole number of seconds."""
        _whole(self, ("lag_s",))


class Either(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One of two links holds: what follows what is for the timetable to choose."""

    one: Link
    other: Link


class Need(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A slot needs `count` of a pool for `length_s`, from `from_s` after its start [s].

    What is needed before the heat walks on has a negative `from_s`.
    """

    slot: str
    count: int
    from_s: int = 0
    length_s: int = 0

    def __post_init__(self) -> None:
        """Refuse numbers that are not whole, and needs of nothing."""
        _whole(self, ("count", "from_s", "length_s"))
        if self.count < 0 or self.length_s < 0:
            raise BadProblem(
                "planner.slot_empty", subject=self.slot, length_s=self.length_s, judges=self.count
            )


class Dip(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """From `start_s` to `end_s` a pool has `count` less than it would have [s]."""

    start_s: int
    end_s: int
    count: int

    def __post_init__(self) -> None:
        """Refuse numbers that are not whole, and a dip that ends before it starts."""
        _whole(self, ("start_s", "end_s", "count"))
        if self.end_s <= self.start_s:
            raise BadProblem("planner.break_backwards", subject="dip", end_at_s=self.end_s)


class Pool(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Something of which all floors together have `limit` at once: kit, judges, a briefer."""

    id: str
    limit: int
    needs: tuple[Need, ...]
    dips: tuple[Dip, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a limit that is no whole number."""
        _whole(self, ("limit",))


class Problem(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A day to be timetabled.

    Attributes
    ----------
    opens_s, closes_s
        No heat starts before the one or holds a floor after the other [s].
    grid_s
        Every heat starts on a multiple of this [s].
    rhythm
        Heats of one block follow each other at one constant spacing, the closest the grid
        allows; only a break may interrupt it.
    shape
        ``blocks``: a block is not interrupted by another on its floor; ``heats``: heats of
        different blocks may take turns.
    waits
        Pairs of heats between which a team waits; the longest wait is the second aim.
    judges_limit
        The most judges at work at once, over all floors.
    pools
        What else the floors share; what a slot needs of one at a time adds up to no more than
        the pool has then.
    turns
        Groups of slots of which each is over before the next begins. The links say so already;
        this lets it be counted.
    least_pitch_s
        The heats of a block start at least so far apart [s], whatever their length.
    early
        Slots that come as early as goes when all other aims are settled; the last aim.
    """

    floors: tuple[str, ...]
    slots: tuple[Slot, ...]
    links: tuple[Link, ...] = ()
    eithers: tuple[Either, ...] = ()
    waits: tuple[tuple[str, str], ...] = ()
    breaks: tuple[Break, ...] = ()
    changeover: Changeover = Changeover()
    opens_s: int = 0
    closes_s: int | None = None
    grid_s: int = 1
    rhythm: bool = False
    shape: Literal["blocks", "heats"] = "heats"
    judges_limit: int | None = None
    pools: tuple[Pool, ...] = ()
    turns: tuple[tuple[str, ...], ...] = ()
    least_pitch_s: int = 0
    early: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Refuse what is not whole, ids that occur twice, and names of nothing."""
        _whole(self, ("opens_s", "grid_s", "least_pitch_s"))
        _whole(self, tuple(n for n in ("closes_s", "judges_limit") if getattr(self, n) is not None))
        if self.grid_s < 1:
            raise BadProblem("planner.grid_too_fine", grid_s=self.grid_s)
        if self.rhythm and self.shape != "blocks":
            raise BadProblem("planner.rhythm_needs_blocks", shape=self.shape)
        _unique("slot", tuple(slot.id for slot in self.slots))
        _unique("floor", self.floors)
        _unique("break", tuple(pause.id for pause in self.breaks))
        known = set(self.floors)
        used = [slot.floors for slot in self.slots] + [pause.floors for pause in self.breaks]
        for floor in chain.from_iterable(used):
            _known("floor", floor, known)
        known = {slot.id for slot in self.slots}
        for link in self.links + tuple(one for e in self.eithers for one in (e.one, e.other)):
            _known("slot", link.before, known)
            _known("slot", link.after, known)
        needs = (need.slot for pool in self.pools for need in pool.needs)
        for name in chain(
            chain.from_iterable(self.waits), chain.from_iterable(self.turns), needs, self.early
        ):
            _known("slot", name, known)

    def slot_table(self) -> Mapping[str, Slot]:
        """Return the slots by id."""
        return MappingProxyType({slot.id: slot for slot in self.slots})

    def blocks(self) -> tuple[tuple[Slot, ...], ...]:
        """Return the blocks, each in the order its heats are run."""
        grouped: dict[tuple[str, str], list[Slot]] = {}
        for slot in self.slots:
            grouped.setdefault((slot.workout, slot.block), []).append(slot)
        return tuple(
            tuple(sorted(slots, key=lambda slot: (slot.rank, slot.id)))
            for slots in grouped.values()
        )

    def changeover_s(self, before: Slot, after: Slot) -> int:
        """Return the least time between two heats that follow each other on a floor [s]."""
        if before.workout != after.workout:
            return self.changeover.workout_s
        if before.block != after.block:
            return self.changeover.division_s
        return self.changeover.same_s

    def pitch_s(self, before: Slot) -> int:
        """Return the least distance of the starts of a heat and the next of its block [s]."""
        return max(before.length_s + self.changeover.same_s, self.least_pitch_s)

    def breaks_on(self, floor: str) -> tuple[Break, ...]:
        """Return the breaks that rest a floor, in time order."""
        mine = (pause for pause in self.breaks if not pause.floors or floor in pause.floors)
        return tuple(sorted(mine, key=lambda pause: (pause.start_s, pause.end_s, pause.id)))

    def stretches(self, floor: str) -> tuple[Stretch, ...]:
        """Return the open pieces of a floor's day between its breaks, in time order."""
        found: list[Stretch] = []
        start_s = self.opens_s
        for pause in self.breaks_on(floor):
            until_s = pause.start_s if self.closes_s is None else min(pause.start_s, self.closes_s)
            if until_s > start_s:
                found.append(Stretch(start_s, until_s))
            start_s = max(start_s, pause.end_s)
        if self.closes_s is None or self.closes_s > start_s:
            found.append(Stretch(start_s, self.closes_s))
        return tuple(found)
