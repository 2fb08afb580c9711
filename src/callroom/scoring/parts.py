"""Standings of one part: scores, places and what they are worth."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType

import msgspec

from callroom.model import Rerun, ScoreSheet
from callroom.model.workout import PartKind
from callroom.scoring.entrants import Entrant, EntrantStatus
from callroom.scoring.overall import Counted, counted
from callroom.scoring.points import Award
from callroom.scoring.rank import ranking
from callroom.scoring.resolve import Terms, counting_score, resolve
from callroom.scoring.score import Score


class PartRow(msgspec.Struct, frozen=True, gc=False):
    """One team in one part: its score, its place (None: none) and what that is worth."""

    team: str
    status: EntrantStatus
    place: int | None
    points: Fraction
    score: Score


class PartStandings(msgspec.Struct, frozen=True, kw_only=True):
    """One scored part in one division.

    Attributes
    ----------
    rows
        By place; then the teams without one.
    complete
        Every team that is still in has a result or is known to be absent.
    awaited
        The teams of which a result or a re-run is still to come.
    disputed
        The teams of which two reports differ and nobody has decided.
    confirmed
        Complete, nothing awaited or disputed, and the head judge has confirmed every score.
    void
        The workout was made void: nobody has a place or points in it, nothing is awaited.
    """

    workout: str
    part: str
    division: str
    kind: PartKind
    share_percent: int
    rows: tuple[PartRow, ...]
    complete: bool
    awaited: tuple[str, ...]
    disputed: tuple[str, ...]
    confirmed: bool
    void: bool = False

    def row(self, team: str) -> PartRow:
        """Return the row of a team; KeyError if it is not in the division."""
        for row in self.rows:
            if row.team == team:
                return row
        raise KeyError(team)


Resolved = Mapping[int, tuple[ScoreSheet, Score]]
"""What sheets say, by their `id`, each with the sheet itself so that it can be told by sight."""
NOTHING_KNOWN: Resolved = MappingProxyType({})


def scores_of(
    terms: Terms,
    field: Sequence[Entrant],
    sheets: Sequence[ScoreSheet],
    reruns: Mapping[str, Sequence[Rerun]],
    known: Resolved = NOTHING_KNOWN,
) -> tuple[tuple[Score, ...], Resolved]:
    """Return the score of every entrant of `field`, in its order, and what every sheet says.

    Parameters
    ----------
    sheets
        Every sheet of the part, in any order.
    reruns
        The re-runs granted in the workout, by team.
    known
        What sheets say under these terms, by their `id`; only the very same one is believed.
    """
    first: dict[str, Score] = {}
    attempts: dict[str, list[Score]] = {}
    resolved: dict[int, tuple[ScoreSheet, Score]] = {}
    for sheet in sheets:
        mark = id(sheet)
        before = known.get(mark)
        if before is None or before[0] is not sheet:
            before = (sheet, resolve(terms, sheet))
        resolved[mark] = before
        score = before[1]
        other = first.setdefault(score.team, score)
        if other is not score:
            attempts.setdefault(score.team, [other]).append(score)
    scores = []
    for entrant in field:
        team = entrant.team
        counting = first.get(team)
        if counting is None or team in attempts or team in reruns:
            made = attempts.get(team) or ([] if counting is None else [counting])
            counting = counting_score(terms, team, made, reruns.get(team, ()))
        if entrant.status in _LEFT:
            counting = _of_a_team_that_left(counting)
        scores.append(counting)
    return tuple(scores), resolved


def rank_part(
    terms: Terms,
    field: Sequence[Entrant],
    scores: Sequence[Score],
    award: Award,
    *,
    void: bool = False,
) -> tuple[PartStandings, Counted]:
    """Return the standings of a part, and how it counts overall, in the order of `field`."""
    won, order = ranking(
        [
            score.key if entrant.takes_places and not void else None
            for entrant, score in zip(field, scores, strict=True)
        ]
    )
    points = [Fraction(0)] * len(scores) if void else award.points(terms.part, won, scores)
    teams = [entrant.team for entrant in field]
    statuses = [entrant.status for entrant in field]
    rows = list(map(PartRow, teams, statuses, won, points, scores))
    rows = [rows[index] for index in order]
    standings = _standings(terms, tuple(rows))
    if void:
        standings = msgspec.structs.replace(standings, awaited=(), disputed=(), void=True)
    return standings, counted(terms.workout, terms.part.id, won, points)


_LEFT = frozenset({"withdrawn", "disqualified"})


def _of_a_team_that_left(score: Score) -> Score:
    if score.kind == "awaited":
        return Score(score.team, "did_not_start", attempt=score.attempt, confirmed=True)
    if score.rerun_awaited:
        return msgspec.structs.replace(score, rerun_awaited=False)
    return score


def _standings(terms: Terms, rows: tuple[PartRow, ...]) -> PartStandings:
    competing, confirmed = 0, 0
    missing, reruns, disputed = [], [], []
    for row in rows:
        if row.status == "out_of_competition":
            continue
        score = row.score
        competing += 1
        confirmed += score.confirmed
        if score.kind == "awaited":
            missing.append(row.team)
        elif score.rerun_awaited:
            reruns.append(row.team)
        if score.disputed:
            disputed.append(row.team)
    complete = competing > 0 and not missing
    return PartStandings(
        workout=terms.workout,
        part=terms.part.id,
        division=terms.division.id,
        kind=terms.part.kind,
        share_percent=terms.part.share_percent,
        rows=rows,
        complete=complete,
        awaited=tuple(sorted(missing + reruns)),
        disputed=tuple(sorted(disputed)),
        confirmed=complete and not (reruns or disputed) and confirmed == competing,
    )
