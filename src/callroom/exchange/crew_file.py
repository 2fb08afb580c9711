"""The file of crew: one row for each volunteer, CSV or XLSX."""

import re
from collections.abc import Mapping

import msgspec

from callroom.exchange.entrants import NOTHING_KNOWN, Entrants, Known
from callroom.exchange.faults import Faults, Spot, nearest, shown
from callroom.exchange.person_columns import PERSON_COLUMNS, enter_person
from callroom.exchange.table import Row, TableColumn, read_table
from callroom.model import BadTime, CrewMember, Event, Finding, Team, parse_clock
from callroom.model.checking import check_teams
from callroom.model.clock import local_instant
from callroom.model.crew import POSTS
from callroom.model.person import Person

COLUMNS = (
    TableColumn("name", ("volunteer",), needed=True),
    TableColumn("posts", ("post", "can do", "roles"), needed=True),
    TableColumn("competes in", ("team", "own team")),
    TableColumn("family in", ("family team", "family teams")),
    TableColumn("gym", ("club", "box")),
    TableColumn("experienced", ("experience",)),
    TableColumn("free from", ("from",)),
    TableColumn("free until", ("until", "to")),
    *PERSON_COLUMNS,
)
_BETWEEN_POSTS = re.compile(r"[,;/]|\band\b")


class CrewRead(msgspec.Struct, frozen=True, kw_only=True):
    """What a file of crew holds: volunteers, who they are by id, and what is worth knowing."""

    crew: tuple[CrewMember, ...]
    people: Mapping[str, Person]
    findings: tuple[Finding, ...] = ()


def read_crew(
    data: bytes, event: Event, file: str = "crew.csv", known: Known = NOTHING_KNOWN
) -> CrewRead:
    """Return the volunteers that a file lists.

    Parameters
    ----------
    data
        The bytes of a CSV or XLSX file; ``docs/formats.md`` lists the columns.
    event
        The event they help at.
    file
        Its name, for messages.
    known
        What the book holds already. It must have the teams that volunteers compete in: who
        competes is found there by name and keeps their id.

    Raises
    ------
    BadInput
        With every fault of the file, each naming its row, its column and the mend.
    """
    faults = Faults(file)
    table = read_table(data, "crew", COLUMNS, faults)
    entrants = Entrants(known)
    crew = tuple(_member(row, event, entrants, known.teams) for row in table.rows)
    unsound = {finding.facts["row"] for finding in faults.findings if finding.severity == "error"}
    rows = {
        f"crew.{member.person}": row.number for member, row in zip(crew, table.rows, strict=True)
    }
    for finding in check_teams(event, known.teams, crew):
        row = rows.get(finding.subject)
        if row is not None and row not in unsound:
            faults.add_finding(finding, Spot(row))
    faults.refuse_if_any()
    return CrewRead(crew=crew, people=entrants.people, findings=faults.findings)


def _member(row: Row, event: Event, entrants: Entrants, teams: tuple[Team, ...]) -> CrewMember:
    names = {team.id: team.name for team in teams}
    team_id = row.named("competes in", names)
    team = next((team for team in teams if team.id == team_id), None)
    name = row.given("name")
    if team is not None and not row.text("person") and not entrants.in_team(name, team):
        row.fault("crew.not_among_athletes", "name", given=shown(name), team=team.name)
    return CrewMember(
        person=enter_person(row, "name", entrants, team),
        posts=_posts(row),
        team=team_id,
        family_in=row.all_named("family in", names),
        gym=row.text("gym"),
        experienced=row.flag("experienced"),
        free_from_s=_offset_s(row, "free from", event),
        free_until_s=_offset_s(row, "free until", event),
    )


def _posts(row: Row) -> tuple[str, ...]:
    posts = []
    for text in _BETWEEN_POSTS.split(row.text("posts", needed=True)):
        post = "_".join(text.casefold().replace("-", " ").split())
        if post and post not in POSTS:
            near = nearest(post, POSTS)
            rule = "crew.post_unknown_near" if near else "crew.post_unknown"
            known = ", ".join(POSTS)
            row.fault(rule, "posts", given=shown(text.strip()), near=near, known=known)
        elif post and post not in posts:
            posts.append(post)
    return tuple(posts)


def _offset_s(row: Row, column: str, event: Event) -> int | None:
    """Return a time of day as seconds from the day's start."""
    text = row.text(column)
    if not text:
        return None
    try:
        instant = local_instant(event.day, parse_clock(text), event.zone)
    except BadTime:
        row.fault("table.no_clock", column, given=shown(text))
        return None
    return int((instant - event.starts_at).total_seconds())
