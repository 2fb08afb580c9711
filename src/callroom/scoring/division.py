"""A division: all its scores, and the standings they make."""

import msgspec

from callroom.model import Finding, Rules
from callroom.scoring.entrants import Entrant
from callroom.scoring.overall import OverallRow
from callroom.scoring.parts import PartStandings
from callroom.scoring.resolve import Terms
from callroom.scoring.score import Score


class Scored(msgspec.Struct, frozen=True):
    """One part with the score of every entrant, in the order of the field.

    `void`: the workout was made void, and what was done in it counts for nothing.
    """

    terms: Terms
    scores: tuple[Score, ...]
    void: bool = False


class DivisionScores(msgspec.Struct, frozen=True, kw_only=True):
    """All that the standings of a division are made from: who competes, and every score."""

    division: str
    rules: Rules
    field: tuple[Entrant, ...]
    parts: tuple[Scored, ...]


class DivisionStandings(msgspec.Struct, frozen=True, kw_only=True):
    """One division: every part, and overall.

    Attributes
    ----------
    rows
        By overall place; then the teams without one.
    counted
        The parts that count overall so far, as (workout, part).
    fewest_best
        Whether the fewest points are the best (sum of places).
    starters
        How many teams started or still may.
    confirmed
        Every part that is not void counts and is confirmed: the standings are no longer
        provisional.
    faults
        Why points could not be worked out, if so.
    """

    division: str
    parts: tuple[PartStandings, ...]
    rows: tuple[OverallRow, ...]
    counted: tuple[tuple[str, str], ...]
    fewest_best: bool
    tie_chain: tuple[str, ...]
    starters: int
    confirmed: bool
    faults: tuple[Finding, ...] = ()

    def part(self, workout: str, part: str) -> PartStandings:
        """Return the standings of a part; KeyError if the event has no such part."""
        for standings in self.parts:
            if (standings.workout, standings.part) == (workout, part):
                return standings
        raise KeyError((workout, part))

    def row(self, team: str) -> OverallRow:
        """Return the row of a team; KeyError if it is not in the division."""
        for row in self.rows:
            if row.team == team:
                return row
        raise KeyError(team)
