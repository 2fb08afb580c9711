"""What a team needs in the next part to reach a place overall, exactly.

A place in a part is one more than the number of teams ahead. Against a team in place q, the
best for its rivals is that the q - 1 ahead of it share the first place and all others tie with
it; the worst, if all take a place, is that nobody ties. Between these nothing has to be tried.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from functools import cache

import msgspec

from callroom.scoring.ahead import Column, Contest
from callroom.scoring.division import DivisionScores
from callroom.scoring.pair_places import OPEN
from callroom.scoring.standings import standings_of


class Need(msgspec.Struct, frozen=True, kw_only=True):
    """What a team needs in a part to be in place `target` or better once the part counts.

    `sure`: with this place or a better one it is there whatever the others do; None: no place
    makes it sure. `at_least`: with a worse place it is not, if all others take a place in the
    part; None: it cannot get there.
    """

    team: str
    target: int
    sure: int | None
    at_least: int | None


class NextPart(msgspec.Struct, frozen=True, kw_only=True):
    """The first part that does not count yet, and what each team that is in needs there.

    `teams` is how many take a place in it. `needs` holds one row for each team and target, the
    teams in the order of the standings.
    """

    workout: str
    part: str
    teams: int
    needs: tuple[Need, ...]


def next_needs(scored: DivisionScores, targets: Sequence[int] = (1, 2, 3)) -> NextPart | None:
    """Return what the next part asks for the places `targets`.

    None without a part to come, or where points are not a matter of places alone or can rise
    with a worse one: then a place in the part says too little.
    """
    standings = standings_of(scored)
    to_come = [
        at
        for at, part in enumerate(standings.parts)
        if not part.complete
        and not part.void
        and (part.workout, part.part) not in standings.counted
    ]
    if not to_come:
        return None
    kept = tuple(
        part
        for at, part in enumerate(scored.parts)
        if at == to_come[0] or (part.terms.workout, part.terms.part.id) in standings.counted
    )
    cut = msgspec.structs.replace(scored, parts=kept)
    terms = scored.parts[to_come[0]].terms
    name = (terms.workout, terms.part.id)
    rivals = [
        entrant.team for entrant in scored.field if entrant.takes_places and entrant.status == "in"
    ]
    contest = Contest(cut, frozenset((*name, team) for team in rivals), standings.starters)
    column = next(one for one in contest.columns if (one.workout, one.part.id) == name)
    if not contest.falls(column):
        return None
    race = _Race(contest, column)
    order = [row.team for row in standings.rows]
    index = {entrant.team: at for at, entrant in enumerate(scored.field)}
    return NextPart(
        workout=name[0],
        part=name[1],
        teams=len(rivals),
        needs=tuple(
            need
            for team in order
            if team in set(rivals)
            for need in race.needs(index[team], team, targets)
        ),
    )


class _Race:
    """A part in which every score of a team that is in is open, and nothing else is."""

    def __init__(self, contest: Contest, column: Column) -> None:
        self._contest = contest
        self._column = column
        self._racing = [at for at, slot in enumerate(column.slots) if slot == OPEN]
        self._others = [at for at in range(len(contest.field)) if column.slots[at] != OPEN]

    def needs(self, team: int, name: str, targets: Sequence[int]) -> Iterator[Need]:
        """Give what a team needs for each target; both bounds only rise with its place here."""
        places = range(1, len(self._racing) + 1)
        placed = self._contest.placed_with(self._column, team)
        worst = cache(lambda place: self._worst(team, place))
        best = cache(lambda place: self._best(team, place))
        for target in targets:
            sure = bisect_right(places, target, key=worst) if placed else 0
            at_least = bisect_right(places, target, key=best) if placed else 0
            yield Need(team=name, target=target, sure=sure or None, at_least=at_least or None)

    def _ahead(self, rival: int, its_place: int | None, team: int, place: int) -> bool:
        return self._contest.ahead_with(self._column, (rival, its_place), (team, place))

    def _out_of_it(self, team: int, place: int) -> int:
        """Count who is ahead without taking part."""
        return sum(self._ahead(at, None, team, place) for at in self._others)

    def _worst(self, team: int, place: int) -> int:
        rivals = [at for at in self._racing if at != team]
        tied = {at for at in rivals if self._ahead(at, place, team, place)}
        by_winning = sum(
            at not in tied and place > 1 and self._ahead(at, 1, team, place) for at in rivals
        )
        return 1 + len(tied) + min(place - 1, by_winning) + self._out_of_it(team, place)

    def _best(self, team: int, place: int) -> int:
        rivals = [at for at in self._racing if at != team]
        places = [one for one in range(1, len(self._racing) + 1) if one != place]
        harmless = sorted(self._harmless_from(at, team, place) for at in rivals)
        kept_behind = waiting = 0
        for one in places:
            while waiting + kept_behind < len(harmless) and harmless[waiting + kept_behind] <= one:
                waiting += 1
            if waiting:
                waiting -= 1
                kept_behind += 1
        return 1 + len(rivals) - kept_behind + self._out_of_it(team, place)

    def _harmless_from(self, rival: int, team: int, place: int) -> int:
        """Return the best place at which a rival is not ahead; it is not with any worse one."""

        def harmless(its_place: int) -> bool:
            return not self._ahead(rival, its_place, team, place)

        return 1 + bisect_left(range(1, len(self._racing) + 1), True, key=harmless)
