"""Every way to load a bar to a mass: how many plates of each kind go on one sleeve.

A sleeve is a stack with the heavier plates inside, so the counts, from heavy to light, say
the whole order.
"""

from collections.abc import Iterator
from typing import NamedTuple

from callroom.planner.plates.problem import Stock, Want

MOST_WAYS = 300
"""More ways than this to one load are not looked at, those with the fewest plates first."""
BAR_MOVES = 2
"""What bringing or taking away a bar counts [moves]."""
NO_BAR = -1


class State(NamedTuple):
    """A bar (its number in the stock; -1: none) and the plates of one sleeve, heavy to light."""

    bar: int
    counts: tuple[int, ...]

    @property
    def plates(self) -> int:
        """Return how many plates are on one sleeve."""
        return sum(self.counts)


class Ways:
    """The ways to load masses from one stock, in whole small units."""

    def __init__(self, stock: Stock, scale: int) -> None:
        """Bring the stock to whole units of which `scale` make a gram."""
        collar = 0 if stock.collar is None else int(2 * stock.collar.grams() * scale)
        self.stock = stock
        self.bars = tuple(int(mass.grams() * scale) + collar for mass, _ in stock.bars)
        self.plates = tuple(int(mass.grams() * scale) for mass, _ in stock.pairs)
        self.pairs = tuple(count for _, count in stock.pairs)
        self.none = State(NO_BAR, (0,) * len(self.plates))
        self.all_seen = True
        self._found: dict[int, tuple[State, ...]] = {}

    def to(self, load: int) -> tuple[State, ...]:
        """Return the ways to reach a load exactly, those with the fewest plates first."""
        if load not in self._found:
            ways = [
                State(bar, counts)
                for bar, mass in enumerate(self.bars)
                if (load - mass) % 2 == 0
                for counts in self._sleeves((load - mass) // 2, 0, self.stock.most_on_sleeve)
            ]
            ways.sort(key=lambda state: (state.plates, state.bar, [-n for n in state.counts]))
            self.all_seen = self.all_seen and len(ways) <= MOST_WAYS
            self._found[load] = tuple(ways[:MOST_WAYS])
        return self._found[load]

    def of(self, want: Want, scale: int) -> tuple[State, ...]:
        """Return the ways to give exactly what is wanted; `scale` small units make a gram."""
        loads = dict.fromkeys(int(load.grams() * scale) for load in want.loads)
        found = [state for load in loads for state in self.to(load)] if loads else self.empty()
        right = [
            state
            for state in dict.fromkeys(found)
            if want.bar is None or self.stock.bars[state.bar][0].grams() == want.bar.grams()
        ]
        return tuple(right)

    def empty(self) -> tuple[State, ...]:
        """Return every bar without plates."""
        return tuple(
            State(bar, (0,) * len(self.plates))
            for bar in range(len(self.bars))
            if self.stock.bars[bar][1]
        )

    def mass(self, state: State) -> int:
        """Return what a loaded bar weighs [small units]."""
        if state.bar == NO_BAR:
            return 0
        sleeve = sum(n * mass for n, mass in zip(state.counts, self.plates, strict=True))
        return self.bars[state.bar] + 2 * sleeve

    def _sleeves(self, rest: int, kind: int, room: int) -> Iterator[tuple[int, ...]]:
        """Yield counts of the kinds from `kind` on that weigh `rest` with at most `room`."""
        if rest == 0:
            yield (0,) * (len(self.plates) - kind)
            return
        # Even the heaviest kind left could not make up the rest.
        if rest < 0 or kind == len(self.plates) or self.plates[kind] * room < rest:
            return
        for count in range(min(self.pairs[kind], room, rest // self.plates[kind]), -1, -1):
            for more in self._sleeves(rest - count * self.plates[kind], kind + 1, room - count):
                yield (count, *more)


def common(one: State, other: State) -> int:
    """Return how many plates of a sleeve, from the inside, may stay from one load to the other."""
    if one.bar != other.bar or NO_BAR in {one.bar, other.bar}:
        return 0
    stay = 0
    for here, there in zip(one.counts, other.counts, strict=True):
        stay += min(here, there)
        if here != there:
            break
    return stay


def moves(one: State, other: State) -> int:
    """Return the moves from one load to another, both sleeves: plates off, plates on, bars."""
    stay = common(one, other)
    plates = 2 * (one.plates + other.plates - 2 * stay)
    if one.bar == other.bar:
        return plates
    return plates + BAR_MOVES * ((one.bar != NO_BAR) + (other.bar != NO_BAR))
