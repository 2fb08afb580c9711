"""The checks of a team's line-up against the make-up of its division."""

from collections import Counter
from collections.abc import Iterator

from callroom.model.checking.catalogue import RULES
from callroom.model.division import Division
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.steps import place_names
from callroom.model.team import Team


def check_line_up(event: Event, division: Division, team: Team) -> Iterator[Finding]:
    """Give every fault of one team's line-up; an empty one may still follow."""
    at = f"team.{team.id}"
    if not team.athletes:
        yield RULES.found("team.no_line_up", at, team=team.id)
        return
    known = {category.id for category in event.categories}
    for category in sorted({athlete.category for athlete in team.athletes} - known):
        yield RULES.found("team.category_unknown", at, team=team.id, category=category)
    yield from _places(division, team)
    yield from _make_up(division, team)
    reserves = len(team.athletes) - len(team.on_floor)
    if reserves > division.reserves:
        yield RULES.found(
            "team.too_many_reserves",
            at,
            team=team.id,
            given=reserves,
            allowed=division.reserves,
        )


def _places(division: Division, team: Team) -> Iterator[Finding]:
    at = f"team.{team.id}"
    for place, count in Counter(athlete.place for athlete in team.athletes).items():
        if count > 1:
            yield RULES.found("team.place_twice", at, team=team.id, place=place)
    places = place_names(division)
    for athlete in team.on_floor:
        if athlete.place not in places:
            yield RULES.found(
                "team.place_unknown",
                at,
                team=team.id,
                place=athlete.place,
                places=", ".join(places),
            )


def _make_up(division: Division, team: Team) -> Iterator[Finding]:
    given = Counter(athlete.category for athlete in team.on_floor)
    wanted = {part.category: part.count for part in division.make_up}
    wrong = {category for category, count in given.items() if count > wanted.get(category, 0)}
    if wrong:
        wrong |= {category for category, count in wanted.items() if given[category] != count}
    for category in sorted(wrong):
        yield RULES.found(
            "team.make_up_wrong",
            f"team.{team.id}",
            team=team.id,
            category=category,
            given=given[category],
            wanted=wanted.get(category, 0),
        )
    if not wrong and given.total() < division.team_size:
        yield RULES.found(
            "team.short_handed",
            f"team.{team.id}",
            team=team.id,
            given=given.total(),
            wanted=division.team_size,
        )
