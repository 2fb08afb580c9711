"""The file of teams: one row for each athlete, CSV or XLSX.

What concerns the whole team (division, entry rank, gym, how to say its name) need stand in
one of its rows only. The details of people come out apart, under the ids that teams carry.
"""

from collections.abc import Iterator, Mapping
from string import ascii_uppercase

import msgspec

from callroom.exchange.entrants import NOTHING_KNOWN, Entrants, Known, next_free, plain_name
from callroom.exchange.faults import Faults, Spot, shown
from callroom.exchange.person_columns import PERSON_COLUMNS, enter_person
from callroom.exchange.table import Row, TableColumn, read_table
from callroom.exchange.toml_section import ID_FORM
from callroom.model import Athlete, Division, Event, Finding, Team
from callroom.model.checking import check_teams
from callroom.model.person import Person
from callroom.model.steps import place_names

COLUMNS = (
    TableColumn("team", ("team name",), needed=True),
    TableColumn("team id", ("team no", "team number")),
    TableColumn("division", needed=True),
    TableColumn("athlete", ("name", "athlete name"), needed=True),
    TableColumn("category", ("sex", "gender")),
    TableColumn("place", ("line-up",)),
    TableColumn("reserve"),
    TableColumn("entry rank", ("seed", "rank")),
    TableColumn("gym", ("club", "box")),
    TableColumn("say it", ("pronunciation", "say")),
    *PERSON_COLUMNS,
)


class TeamsRead(msgspec.Struct, frozen=True, kw_only=True):
    """What a file of teams holds: teams, the people in them by id, and what is worth knowing."""

    teams: tuple[Team, ...]
    people: Mapping[str, Person]
    findings: tuple[Finding, ...] = ()


def read_teams(
    data: bytes, event: Event, file: str = "teams.csv", known: Known = NOTHING_KNOWN
) -> TeamsRead:
    """Return the teams that a file lists.

    Parameters
    ----------
    data
        The bytes of a CSV or XLSX file; ``docs/formats.md`` lists the columns.
    event
        The event they enter.
    file
        Its name, for messages.
    known
        What the book holds already: a team of the same name and a person known again keep
        their ids.

    Raises
    ------
    BadInput
        With every fault of the file, each naming its row, its column and the mend.
    """
    faults = Faults(file)
    table = read_table(data, "teams", COLUMNS, faults)
    groups = _by_team(tuple(row for row in table.rows if _says_something(row)))
    entrants = Entrants(known)
    before = {team.id: team for team in known.teams}
    teams = tuple(
        _team(team_id, rows, event, entrants, before.get(team_id))
        for team_id, rows in _with_ids(groups, known.teams)
    )
    first_rows = {f"team.{team.id}": rows[0] for team, rows in zip(teams, groups, strict=True)}
    unsound = {finding.facts["row"] for finding in faults.findings if finding.severity == "error"}
    sound = {
        f"team.{team.id}"
        for team, rows in zip(teams, groups, strict=True)
        # A division that could not be read is one fault, told where it stands.
        if team.division and unsound.isdisjoint(row.number for row in rows)
    }
    for finding in check_teams(event, teams, ()):
        if finding.subject in sound or finding.subject not in first_rows:
            faults.add_finding(finding, _spot(finding.subject, teams, first_rows))
    faults.refuse_if_any()
    return TeamsRead(teams=teams, people=entrants.people, findings=faults.findings)


def _says_something(row: Row) -> bool:
    """Whether a row holds more than an entry sheet had in it before anybody filled it in."""
    return any(
        row.given(name) for name in row.cells if name not in {"division", "category", "reserve"}
    )


def _spot(subject: str, teams: tuple[Team, ...], first_rows: Mapping[str, Row]) -> Spot:
    """Return the row of the team concerned; for a division too large, of its last team."""
    if subject in first_rows:
        return Spot(first_rows[subject].number)
    division = subject.split(".")[1]
    last = [team.id for team in teams if team.division == division][-1]
    return Spot(first_rows[f"team.{last}"].number)


def _by_team(rows: tuple[Row, ...]) -> list[list[Row]]:
    """Return the rows of each team, in the order in which the teams first appear.

    A row belongs with the others of its team id, or without one with those of its name.
    """
    ids: dict[str, set[str]] = {}
    for row in rows:
        ids.setdefault(plain_name(row.given("team")), set()).add(row.given("team id"))
    groups: dict[str, list[Row]] = {}
    for row in rows:
        name = plain_name(row.given("team"))
        own = ids[name] - {""}
        team_id = row.given("team id") or (next(iter(own)) if len(own) == 1 else "")
        groups.setdefault(f"id {team_id}" if team_id else f"name {name}", []).append(row)
    return list(groups.values())


def _with_ids(groups: list[list[Row]], known: tuple[Team, ...]) -> Iterator[tuple[str, list[Row]]]:
    """Yield the id of each team with its rows: given, kept from the book, or the next free."""
    by_name = {plain_name(team.name): team.id for team in known}
    given = [_once(rows, "team id") for rows in groups]
    taken = {team.id for team in known} | set(given)
    for rows, team_id in zip(groups, given, strict=True):
        if team_id and not ID_FORM.fullmatch(team_id):
            rows[0].fault("table.id_form", "team id", given=shown(team_id))
        kept = by_name.pop(plain_name(rows[0].given("team")), "")
        chosen = team_id or kept or next_free("T", 2, taken)
        taken.add(chosen)
        yield chosen, rows


def _team(
    team_id: str, rows: list[Row], event: Event, entrants: Entrants, before: Team | None
) -> Team:
    division = _division(rows, event)
    _once(rows, "entry rank")
    ranks = (row.whole("entry rank", 1) for row in rows)
    named = [row for row in rows if row.given("athlete")]
    for row in rows:
        if not row.given("team"):
            row.text("team", needed=True)
    athletes = _athletes(named, event, division, entrants, before)
    captain = before.captain if before is not None else ""
    return Team(
        id=team_id,
        name=_once(rows, "team"),
        division=division.id if division else "",
        athletes=athletes,
        # A file says nothing of captains, so it takes none away who is still in the team.
        captain=captain if captain in {one.person for one in athletes} else "",
        entry_rank=next((rank for rank in ranks if rank is not None), None),
        gym=_once(rows, "gym"),
        say_it=_once(rows, "say it"),
    )


def _division(rows: list[Row], event: Event) -> Division | None:
    told = next((row for row in rows if row.given("division")), rows[0])
    sound = bool(_once(rows, "division")) or not told.given("division")
    names = {one.id: one.name for one in event.divisions}
    division_id = told.named("division", names, needed=True) if sound else ""
    return event.division(division_id) if division_id else None


def _once(rows: list[Row], column: str) -> str:
    """Return what the rows of a team say under `column`, with a fault where they differ."""
    first = ""
    first_row = 0
    for row in rows:
        text = row.text(column)
        if text and not first:
            first, first_row = text, row.number
        elif text and plain_name(text) != plain_name(first):
            row.fault(
                "table.differs", column, given=shown(text), other=shown(first), other_row=first_row
            )
    return first


def _athletes(
    rows: list[Row],
    event: Event,
    division: Division | None,
    entrants: Entrants,
    before: Team | None,
) -> tuple[Athlete, ...]:
    places = _places(rows, division)
    athletes = []
    for row, place in zip(rows, places, strict=True):
        athletes.append(
            Athlete(
                place=place,
                category=_category(row, event),
                person=enter_person(row, "athlete", entrants, before),
                reserve=row.flag("reserve"),
            )
        )
    return tuple(athletes)


def _category(row: Row, event: Event) -> str:
    if len(event.categories) == 1:
        return event.categories[0].id
    names = {one.id: one.name for one in event.categories}
    return row.named("category", names, needed=True)


def _places(rows: list[Row], division: Division | None) -> list[str]:
    """Return the place of each athlete: as given, else the next free one in order.

    Reserves without a place get letters behind those of the line-up.
    """
    given = [row.text("place").upper() for row in rows]
    for row, place in zip(rows, given, strict=True):
        if place and (len(place) > 1 or not "A" <= place <= "Z"):
            row.fault("table.no_place", "place", given=shown(place))
    on_floor = place_names(division) if division else ()
    free = [letter for letter in ascii_uppercase if letter not in given]
    behind = [letter for letter in free if letter not in on_floor]
    places = []
    for row, place in zip(rows, given, strict=True):
        letters = behind if row.is_yes("reserve") else free
        chosen = place or next(iter(letters), "")
        free = [letter for letter in free if letter != chosen]
        behind = [letter for letter in behind if letter != chosen]
        places.append(chosen)
    return places
