"""What was worked out for the State before, so that a new report costs what it touches.

Remembering never changes an answer: a score is taken again only for the very same sheet under
the very same rules, a ranking only for the very same scores. *Same* means the same object; a
State shares with the one before it whatever an entry left alone, and nothing in it is changed in
place. What is kept is replaced whole, so that several threads may use it.
"""

import threading
from collections import OrderedDict
from collections.abc import Mapping, Sequence
from operator import is_

import msgspec

from callroom.model import Division, Part, Rerun, Rules, ScoreSheet
from callroom.scoring.division import DivisionScores, DivisionStandings, Scored
from callroom.scoring.entrants import Entrant
from callroom.scoring.overall import Counted
from callroom.scoring.parts import NOTHING_KNOWN, PartStandings, Resolved
from callroom.scoring.points import Award
from callroom.scoring.resolve import Terms

MOST_DIVISIONS = 64
"""Divisions under one set of rules that are remembered; the one asked for longest ago goes."""

Ranked = tuple[PartStandings, Counted]


class Made(msgspec.Struct, frozen=True):
    """The scores of a part, and what they were made from."""

    sheets: Sequence[ScoreSheet]
    field: Sequence[Entrant]
    reruns: Mapping[str, Sequence[Rerun]]
    scored: Scored

    def still(
        self,
        sheets: Sequence[ScoreSheet],
        field: Sequence[Entrant],
        reruns: Mapping[str, Sequence[Rerun]],
        *,
        void: bool,
    ) -> bool:
        """Whether nothing that the scores were made from has changed."""
        return (
            self.field is field
            and self.scored.void == void
            and len(self.sheets) == len(sheets)
            and all(map(is_, self.sheets, sheets))
            and self.reruns == reruns
        )


class PartMemory:
    """One part in one division."""

    def __init__(self, terms: Terms) -> None:
        """Begin with nothing under `terms`."""
        self.terms = terms
        self.made: Made | None = None
        self.resolved: Resolved = NOTHING_KNOWN
        self._ranked: tuple[Scored, Sequence[Entrant], int, Ranked] | None = None

    def ranking(self, scored: Scored, field: Sequence[Entrant], starters: int) -> Ranked | None:
        """Return the ranking of these very scores with so many teams that start, if known."""
        known = self._ranked
        if known is None or known[0] is not scored or known[1] is not field:
            return None
        return known[3] if known[2] == starters else None

    def keep_ranking(
        self, scored: Scored, field: Sequence[Entrant], starters: int, ranked: Ranked
    ) -> None:
        """Remember a ranking."""
        self._ranked = (scored, field, starters, ranked)


class DivisionMemory:
    """One division under one set of rules; `whole` is its scores with the standings they made."""

    def __init__(self, division: Division, rules: Rules) -> None:
        """Begin with nothing; both are kept, so that no other object can pass for them."""
        self.division = division
        self.rules = rules
        self.whole: tuple[DivisionScores, DivisionStandings] | None = None
        self._award: tuple[int, Award] | None = None
        self._field: tuple[Entrant, ...] = ()
        self._parts: dict[tuple[str, str], PartMemory] = {}

    def field(self, field: tuple[Entrant, ...]) -> tuple[Entrant, ...]:
        """Return the field known already if `field` equals it, so that it can be told by sight."""
        known = self._field
        if known == field:
            return known
        self._field = field
        return field

    def award(self, starters: int) -> Award:
        """Return how points are awarded among so many; one that met a fault is not kept."""
        known = self._award
        if known is None or known[0] != starters or known[1].fault is not None:
            known = self._award = (starters, Award(self.rules.points, starters))
        return known[1]

    def part(self, workout: str, part: Part) -> PartMemory | None:
        """Return what is known of a part as it now stands."""
        known = self._parts.get((workout, part.id))
        return known if known is not None and known.terms.part is part else None

    def new_part(self, terms: Terms) -> PartMemory:
        """Begin to remember a part."""
        memory = self._parts[terms.workout, terms.part.id] = PartMemory(terms)
        return memory


_LOCK = threading.Lock()
_KNOWN: OrderedDict[tuple[int, int], DivisionMemory] = OrderedDict()


def memory_of(division: Division, rules: Rules) -> DivisionMemory:
    """Return what is remembered of a division under these rules, the same for everybody."""
    mark = (id(division), id(rules))
    with _LOCK:
        memory = _KNOWN.get(mark)
        if memory is None or memory.division is not division or memory.rules is not rules:
            memory = _KNOWN[mark] = DivisionMemory(division, rules)
        _KNOWN.move_to_end(mark)
        while len(_KNOWN) > MOST_DIVISIONS:
            _KNOWN.popitem(last=False)
        return memory
