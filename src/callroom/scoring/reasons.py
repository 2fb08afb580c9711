"""Why a team has its place, as facts. Made when somebody asks, never beforehand."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

import msgspec

from callroom.model import Fact, State
from callroom.scoring.division import DivisionStandings
from callroom.scoring.overall import OverallRow, best_places, parts_named
from callroom.scoring.points import points_text


class Reason(msgspec.Struct, frozen=True):
    """One thing that made a place what it is: a rule of the catalogue, with its facts.

    Reasons come in the order they are told, the most important first.
    """

    rule: str
    facts: Mapping[str, Fact] = {}


class Called(msgspec.Struct, frozen=True):
    """What teams and results are called, by team id and by (workout, part); else their ids."""

    teams: Mapping[str, str] = {}
    results: Mapping[tuple[str, str], str] = {}

    def team_list(self, teams: Sequence[str]) -> str:
        """Return the names of `teams` in one text."""
        return ", ".join(self.teams.get(team, team) for team in teams)

    def result_list(self, results: Sequence[tuple[str, str]]) -> str:
        """Return the names of `results` in one text."""
        return ", ".join(self.results.get(named, "/".join(named)) for named in results)


def called(state: State) -> Called:
    """Return what the teams and results of a book are called."""
    results = {
        (workout.id, part.id): workout.name
        if len(workout.parts) == 1
        else f"{workout.name} ({part.name or part.id})"
        for workout in (state.event.workouts if state.event else ())
        for part in workout.parts
    }
    return Called({team.id: team.name for team in state.teams.values()}, results)


def overall_reasons(standings: DivisionStandings, team: str, names: Called) -> tuple[Reason, ...]:
    """Return why `team` is where it is overall; KeyError if it is not in the division."""
    row = standings.row(team)
    return (*_standing(standings, row, names), *_ties(standings, row, names))


def _standing(standings: DivisionStandings, row: OverallRow, names: Called) -> Iterator[Reason]:
    if row.place is not None:
        points = points_text(row.points)
        yield Reason("overall.place", {"place": row.place, "points": points})
    elif row.standing == "waiting":
        yield Reason("overall.waiting")
    if row.status != "in":
        yield Reason(f"overall.{row.status}")
    missing = [
        named for named, place in zip(standings.counted, row.places, strict=True) if place is None
    ]
    if row.standing == "below":
        yield Reason("overall.below", {"results": names.result_list(missing)})
    elif row.standing == "unranked" and row.status in {"in", "withdrawn"}:
        yield Reason("overall.unranked", {"results": names.result_list(missing)})


def _ties(standings: DivisionStandings, row: OverallRow, names: Called) -> Iterator[Reason]:
    if row.place is None:
        return
    level = [
        other
        for other in standings.rows
        if (other.standing, other.points) == (row.standing, row.points)
        and other.team != row.team
        and other.place is not None
    ]
    yield from told_together(
        [(other.team, _between(standings, row, other, names)) for other in level], names
    )


def told_together(compared: Sequence[tuple[str, Reason]], names: Called) -> Iterator[Reason]:
    """Give each reason once, with all the teams it holds against."""
    teams: dict[tuple[str, tuple[tuple[str, Fact], ...]], list[str]] = defaultdict(list)
    for team, reason in compared:
        teams[reason.rule, tuple(reason.facts.items())].append(team)
    for (rule, facts), against in teams.items():
        yield Reason(rule, {"teams": names.team_list(against), **dict(facts)})


def _between(
    standings: DivisionStandings, row: OverallRow, other: OverallRow, names: Called
) -> Reason:
    """Return what parts two teams with the same points; the chain is gone through in order."""
    for item in standings.tie_chain:
        if item == "shared":
            break
        reason = (
            _by_places(row, other)
            if item == "most_firsts"
            else _by_result(standings, item, row, other, names)
        )
        if reason is not None:
            return reason
    return Reason("overall.shared")


def _by_places(row: OverallRow, other: OverallRow) -> Reason | None:
    for mine, theirs in zip(best_places(row.places), best_places(other.places), strict=True):
        if mine != theirs:
            place = min(mine, theirs)
            rule = "overall.ahead_on_places" if mine < theirs else "overall.behind_on_places"
            return Reason(
                rule,
                {
                    "place": place,
                    "mine": row.places.count(place),
                    "theirs": other.places.count(place),
                },
            )
    return None


def _by_result(
    standings: DivisionStandings, item: str, row: OverallRow, other: OverallRow, names: Called
) -> Reason | None:
    named = parts_named(item, standings.counted)
    if not named:
        return None
    results = names.result_list([standings.counted[index] for index in named])
    if len(named) == 1:
        mine, theirs = row.places[named[0]], other.places[named[0]]
        if mine == theirs:
            return None
        ahead = theirs is None or (mine is not None and mine < theirs)
        facts: dict[str, Fact] = {"results": results, "mine": mine, "theirs": theirs}
    else:
        won = [
            sum((_worth(standings, index, each.team) for index in named), Fraction(0))
            for each in (row, other)
        ]
        if won[0] == won[1]:
            return None
        ahead = (won[0] < won[1]) == standings.fewest_best
        facts = {"results": results, "mine": points_text(won[0]), "theirs": points_text(won[1])}
    return Reason("overall.ahead_in" if ahead else "overall.behind_in", facts)


def _worth(standings: DivisionStandings, index: int, team: str) -> Fraction:
    return standings.part(*standings.counted[index]).row(team).points
