"""Whether anything that is still open can change the first three of a division.

The first three are certain exactly if each of them is sure to compare as it does now with every
other team: then none of their places can change and nobody can come among them; and if one
comparison can turn out otherwise, one place among the first three does too.
"""

from collections.abc import Iterator, Mapping, Sequence

import msgspec
from msgspec.structs import replace

from callroom.model import State
from callroom.scoring.ahead import Contest, Order
from callroom.scoring.division import DivisionScores, DivisionStandings
from callroom.scoring.open_scores import ScoreName, Why, open_scores
from callroom.scoring.pair_places import OPEN
from callroom.scoring.score import Score
from callroom.scoring.standings import division_scores, standings_of

LAST_ON_PODIUM = 3


class OnPodium(msgspec.Struct, frozen=True, kw_only=True):
    """A team among the first three; `certain`: nothing that is open can change its place."""

    team: str
    place: int
    shared: bool
    certain: bool


class OpenScore(msgspec.Struct, frozen=True, kw_only=True):
    """A score that is still open, and why."""

    workout: str
    part: str
    team: str
    why: tuple[Why, ...]


class PodiumGate(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of the first three of a division.

    Attributes
    ----------
    podium
        Who has the places 1 to 3 if what is missing brings no place, the best first.
    certain
        Nothing that is open can change any of them, and there is somebody to present.
    awaited
        The open scores that can change the first three.
    idle
        The open scores that cannot, however they turn out.
    appeals
        Open appeals against the standings as a whole, by number: what they change has no bounds.
    challengers
        Teams not among the first three that can still come there.
    standings
        The standings that `podium` is of.
    """

    division: str
    podium: tuple[OnPodium, ...]
    certain: bool
    awaited: tuple[OpenScore, ...]
    idle: tuple[OpenScore, ...]
    appeals: tuple[int, ...]
    challengers: tuple[str, ...]
    standings: DivisionStandings


def podium_gate(state: State, division_id: str) -> PodiumGate:
    """Return what is known of the first three of a division.

    Raises
    ------
    NotFound
        If the book has no event or the event no such division.
    """
    scored = division_scores(state, division_id)
    appeals = tuple(
        appeal.number
        for appeal in state.appeals.values()
        if appeal.open and not appeal.workout and state.teams[appeal.team].division == division_id
    )
    return gate_of(scored, open_scores(state, scored), appeals)


def gate_of(
    scored: DivisionScores,
    still_open: Mapping[ScoreName, tuple[Why, ...]],
    appeals: tuple[int, ...] = (),
) -> PodiumGate:
    """Return what is known of the first three when the scores of `still_open` may change.

    Where it is open how many teams start at all, and points depend on that, the answer is on
    the safe side: it may call uncertain what is not.
    """
    standings = standings_of(_as_absent(scored))
    index = {entrant.team: at for at, entrant in enumerate(scored.field)}
    first = [row for row in standings.rows if row.place and row.place <= LAST_ON_PODIUM]
    contests = [
        Contest(scored, frozenset(still_open), starters)
        for starters in _starters(scored, still_open)
    ]
    doubts = {
        row.team: [
            other
            for other in range(len(scored.field))
            if other != index[row.team] and _in_doubt(contests, index[row.team], other)
        ]
        for row in first
    }
    may_fall = {
        row.team for row in first if any(False in each.ranked(index[row.team]) for each in contests)
    }
    newcomers = _newcomers(contests, {index[row.team] for row in first})
    matters = frozenset(
        name
        for team, others in doubts.items()
        for other in others
        for name in _deciding(contests, scored, index[team], other)
    ) | frozenset(
        (workout, part, team)
        for workout, part, team in still_open
        if team in may_fall or index[team] in newcomers
    )
    on_podium = {index[row.team] for row in first}
    coming = {other for others in doubts.values() for other in others} | newcomers
    return PodiumGate(
        division=scored.division,
        podium=tuple(
            OnPodium(
                team=row.team,
                place=row.place or 0,
                shared=sum(row.place == other.place for other in first) > 1,
                certain=not doubts[row.team] and row.team not in may_fall and not appeals,
            )
            for row in first
        ),
        certain=bool(first) and not (any(doubts.values()) or may_fall or newcomers or appeals),
        awaited=tuple(_open_scores(still_open, matters)),
        idle=tuple(_open_scores(still_open, still_open.keys() - matters)),
        appeals=appeals,
        challengers=tuple(scored.field[at].team for at in sorted(coming - on_podium)),
        standings=standings,
    )


def _as_absent(scored: DivisionScores) -> DivisionScores:
    """Return the scores with nothing for what is missing, so that every part counts."""
    parts = tuple(
        replace(
            part,
            scores=tuple(
                Score(score.team, "did_not_start") if score.kind == "awaited" else score
                for score in part.scores
            ),
        )
        for part in scored.parts
    )
    return replace(scored, parts=parts)


def _starters(
    scored: DivisionScores, still_open: Mapping[ScoreName, tuple[Why, ...]]
) -> Sequence[int]:
    """Return how many teams may turn out to have started; those in competition alone count."""
    sure = perhaps = 0
    for at, entrant in enumerate(scored.field):
        if entrant.status == "out_of_competition":
            continue
        cells = [
            ((part.terms.workout, part.terms.part.id, entrant.team), part.scores[at].kind)
            for part in scored.parts
        ]
        if any(kind != "did_not_start" for name, kind in cells if name not in still_open):
            sure += 1
        elif any(name in still_open for name, _ in cells):
            perhaps += 1
    return range(sure, sure + perhaps + 1)


def _in_doubt(contests: Sequence[Contest], one: int, other: int) -> bool:
    orders: set[Order] = set()
    for contest in contests:
        orders |= contest.orders(one, other)
        if len(orders) > 1:
            return True
    return False


def _newcomers(contests: Sequence[Contest], on_podium: set[int]) -> set[int]:
    """Return who may get a place where fewer than three teams have one."""
    if len(on_podium) >= LAST_ON_PODIUM:
        return set()
    return {
        at
        for contest in contests
        for at in range(len(contest.field))
        if at not in on_podium and True in contest.ranked(at)
    }


def _deciding(
    contests: Sequence[Contest], scored: DivisionScores, one: int, other: int
) -> Iterator[ScoreName]:
    """Give the open scores that may decide between two teams: their own, then those between.

    Scores of others are left out of it where the two teams' own scores decide nothing more.
    """
    contest = contests[0]
    for column in contest.columns:
        for at in (one, other):
            if column.slots[at] == OPEN:
                yield column.workout, column.part.id, scored.field[at].team
        both_known = OPEN not in (column.slots[one], column.slots[other])
        if both_known and not contest.decided(one, other, column):
            for at, slot in enumerate(column.slots):
                if slot == OPEN:
                    yield column.workout, column.part.id, scored.field[at].team


def _open_scores(
    still_open: Mapping[ScoreName, tuple[Why, ...]], names: frozenset[ScoreName] | set[ScoreName]
) -> Iterator[OpenScore]:
    for (workout, part, team), why in still_open.items():
        if (workout, part, team) in names:
            yield OpenScore(workout=workout, part=part, team=team, why=why)
