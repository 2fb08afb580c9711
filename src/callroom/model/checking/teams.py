"""The checks of teams and crew against the event they enter."""

from collections import Counter
from collections.abc import Iterator

from callroom.model.checking.catalogue import RULES
from callroom.model.checking.ids import usable_id
from callroom.model.checking.line_up import check_line_up
from callroom.model.crew import CrewMember
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.team import Team


def check_teams(
    event: Event, teams: tuple[Team, ...], crew: tuple[CrewMember, ...]
) -> tuple[Finding, ...]:
    """Return every fault of `teams` and `crew` in `event`, in the order they are listed."""
    return (*_teams(event, teams), *_crew(teams, crew))


def _teams(event: Event, teams: tuple[Team, ...]) -> Iterator[Finding]:
    yield from _ids(teams)
    yield from _names(teams)
    for division in event.divisions:
        count = sum(team.division == division.id for team in teams)
        if 0 < division.team_limit < count:
            yield RULES.found(
                "division.too_many_teams",
                f"divisions.{division.id}.team_limit",
                division=division.id,
                count=count,
                limit=division.team_limit,
            )
    divisions = {division.id: division for division in event.divisions}
    for team in teams:
        if team.division in divisions:
            yield from check_line_up(event, divisions[team.division], team)
        else:
            yield RULES.found(
                "team.division_unknown",
                f"team.{team.id}",
                team=team.id,
                division=team.division,
            )
    yield from _people(teams)
    yield from _entry_ranks(teams)


def _ids(teams: tuple[Team, ...]) -> Iterator[Finding]:
    for given, count in Counter(team.id for team in teams).items():
        if not usable_id(given):
            yield RULES.found("team.id_unusable", f"team.{given}", team=given)
        elif count > 1:
            yield RULES.found("team.id_twice", f"team.{given}", team=given)


def _names(teams: tuple[Team, ...]) -> Iterator[Finding]:
    first: dict[str, Team] = {}
    for team in teams:
        at = f"team.{team.id}"
        name = " ".join(team.name.split()).casefold()
        if not name:
            yield RULES.found("team.name_missing", at, team=team.id)
            continue
        other = first.setdefault(name, team)
        if other.id == team.id:
            continue
        same = other.division == team.division
        rule = "team.name_twice" if same else "team.name_in_other_division"
        yield RULES.found(rule, at, team=team.id, name=team.name, other=other.id)


def _people(teams: tuple[Team, ...]) -> Iterator[Finding]:
    first: dict[str, str] = {}
    for team in teams:
        for person, count in Counter(athlete.person for athlete in team.athletes).items():
            facts = {"team": team.id, "person": person}
            if count > 1:
                yield RULES.found("athlete.twice_in_team", f"team.{team.id}", **facts)
            other = first.setdefault(person, team.id)
            if other != team.id:
                yield RULES.found("athlete.in_two_teams", f"team.{team.id}", **facts, other=other)


def _entry_ranks(teams: tuple[Team, ...]) -> Iterator[Finding]:
    first: dict[tuple[str, int], str] = {}
    for team in teams:
        if team.entry_rank is None:
            continue
        at, rank = f"team.{team.id}", team.entry_rank
        if rank < 1:
            yield RULES.found("team.entry_rank_not_positive", at, team=team.id, entry_rank=rank)
        other = first.setdefault((team.division, rank), team.id)
        if other != team.id:
            yield RULES.found(
                "team.entry_rank_twice", at, team=team.id, other=other, entry_rank=rank
            )


def _crew(teams: tuple[Team, ...], crew: tuple[CrewMember, ...]) -> Iterator[Finding]:
    by_id = {team.id: team for team in teams}
    team_of = {athlete.person: team.id for team in teams for athlete in team.athletes}
    for person, count in Counter(member.person for member in crew).items():
        if count > 1:
            yield RULES.found("crew.twice", f"crew.{person}", person=person)
    for member in crew:
        at = f"crew.{member.person}"
        if not member.posts:
            yield RULES.found("crew.no_posts", at, person=member.person)
        yield from _own_team(member, by_id, team_of)
        for team in member.family_in:
            if team not in by_id:
                yield RULES.found("crew.family_unknown", at, person=member.person, team=team)
        start_s, end_s = member.free_from_s, member.free_until_s
        if start_s is not None and end_s is not None and end_s <= start_s:
            yield RULES.found(
                "crew.never_free",
                at,
                person=member.person,
                free_from_s=start_s,
                free_until_s=end_s,
            )


def _own_team(
    member: CrewMember, teams: dict[str, Team], team_of: dict[str, str]
) -> Iterator[Finding]:
    at = f"crew.{member.person}"
    competes_in = team_of.get(member.person, "")
    if not member.team:
        if competes_in:
            yield RULES.found("crew.team_not_said", at, person=member.person, team=competes_in)
        return
    facts = {"person": member.person, "team": member.team}
    if member.team not in teams:
        yield RULES.found("crew.team_unknown", at, **facts)
    elif teams[member.team].athletes and competes_in != member.team:
        yield RULES.found("crew.not_in_team", at, **facts)
