"""Teams from CSV and XLSX: what is read, how people keep their ids, and each fault's place."""

from datetime import date, datetime

import pytest
from msgspec.structs import replace

from callroom.exchange import Known, TeamsRead, read_event, read_teams
from callroom.model import Athlete, Event
from callroom.model.person import Person
from callroom.views.sentences import sentence
from tests.exchange.files import SMALL_EVENT, places, refused
from tests.exchange.sheets import workbook

EVENT = read_event(SMALL_EVENT.replace("team = {", "reserves = 1\nteam = {").encode())
FOUR = read_event(
    SMALL_EVENT.replace("women = 1, men = 1", "women = 2, men = 2")
    .replace("[floors.main]", '[divisions.late]\nname = "Late"\nteam = { men = 1 }\nteam_limit = 1\n\n[floors.main]')
    .encode()
)  # fmt: skip

PLAIN = """\
Team,Division,Athlete,Category,E-mail,Phone,Birth date,Emergency contact
Salt,Open,Ada Moss,Women,ada@example.org,01632 960001,1990-04-30,Bo Moss 01632 960002
Salt,,Bo Reed,Men,,,,
Pepper,open,Cy Lund,men,,,,
Pepper,,Di Okoro,women,,,,
"""


def read(text: str, event: Event = EVENT, known: Known | None = None) -> TeamsRead:
    return read_teams(text.encode(), event, "teams.csv", known or Known())


def test_teams_are_read_one_athlete_a_row() -> None:
    found = read(PLAIN)
    salt, pepper = found.teams
    assert (salt.id, salt.name, salt.division) == ("T01", "Salt", "open")
    assert salt.athletes == (
        Athlete(place="A", category="women", person="P001"),
        Athlete(place="B", category="men", person="P002"),
    )
    assert [athlete.category for athlete in pepper.athletes] == ["men", "women"]
    assert found.findings == ()


def test_people_are_kept_apart_from_teams() -> None:
    found = read(PLAIN)
    assert found.people["P001"] == Person(
        name="Ada Moss",
        email="ada@example.org",
        phone="01632 960001",
        birth_date=date(1990, 4, 30),
        emergency_contact="Bo Moss 01632 960002",
    )
    assert "Ada" not in repr(found.teams)
    assert len(found.people) == 4


@pytest.mark.parametrize("delimiter", [";", "\t", "|"])
def test_any_usual_delimiter_will_do(delimiter: str) -> None:
    assert read(PLAIN.replace(",", delimiter)) == read(PLAIN)


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_any_usual_encoding_will_do_and_a_guess_is_said(encoding: str) -> None:
    text = PLAIN.replace("Pepper", "Pfeffermühle")
    found = read_teams(text.encode(encoding), EVENT)
    assert found.teams[1].name == "Pfeffermühle"
    guesses = [(one.rule, one.facts["row"]) for one in found.findings]
    assert guesses == ([("table.encoding_guessed", 4)] if encoding == "cp1252" else [])


def test_columns_may_stand_in_any_order_under_other_names_below_a_title() -> None:
    text = """\
Our teams this year;;;
;;;
SEX;Name;Team name;division
Women;Ada Moss;Salt;Open
Men;Bo Reed;Salt;
"""
    assert read(text).teams[0].athletes[0] == Athlete(place="A", category="women", person="P001")


def test_team_columns_are_read_from_any_row() -> None:
    text = """\
Team,Team id,Division,Athlete,Category,Place,Reserve,Seed,Gym,Say it
Salt,,,Ada,Women,B,,,,
Salt,S1,Open,Bo,Men,,,4,Loft,SAWLT
Salt,,,Cy,Men,,yes,,,
"""
    team = read(text).teams[0]
    assert (team.id, team.entry_rank, team.gym, team.say_it) == ("S1", 4, "Loft", "SAWLT")
    assert [(one.place, one.reserve) for one in team.athletes] == [
        ("B", False),
        ("A", False),
        ("C", True),
    ]


def test_a_team_may_still_have_no_athletes() -> None:
    found = read("Team,Division,Athlete,Category\nSalt,Open,,\n")
    assert found.teams[0].athletes == ()
    assert [(one.rule, one.facts["row"]) for one in found.findings] == [("team.no_line_up", 2)]


def test_a_workbook_reads_like_a_csv() -> None:
    rows = [line.split(",") for line in PLAIN.splitlines()]
    assert read_teams(workbook(rows), EVENT) == read(PLAIN)


def test_rows_are_numbered_as_the_user_sees_them_when_the_first_are_empty() -> None:
    rows = [line.split(",") for line in PLAIN.splitlines()]
    rows[2][3] = "Mem"
    findings = refused(read_teams, workbook(rows, first_row=5), EVENT, "t.xlsx")
    assert places(findings) == [("table.not_known_near", 8, "D")]
    assert sentence(findings[0]).startswith("t.xlsx, row 8, column D: ")


def test_numbers_dates_and_truths_of_a_workbook_read_as_they_are_shown() -> None:
    head = [
        "Team",
        "Division",
        "Athlete",
        "Category",
        "Entry rank",
        "Phone",
        "Birth date",
        "Reserve",
    ]

    def more(book: object, page: object) -> None:
        shown = book.add_format({"num_format": "dd/mm/yyyy"})  # type: ignore[attr-defined]
        page.write_datetime(1, 6, datetime(1990, 4, 30), shown)  # type: ignore[attr-defined]  # noqa: DTZ001
        page.write_boolean(1, 7, False)  # type: ignore[attr-defined]

    data = workbook([head, [7, "Open", "Ada", "Women", 3, 441632960001]], more=more)
    found = read_teams(data, EVENT)
    assert (found.teams[0].name, found.teams[0].entry_rank) == ("7", 3)
    assert found.people["P001"].phone == "441632960001"
    assert found.people["P001"].birth_date == date(1990, 4, 30)
    assert found.teams[0].athletes[0].reserve is False


def test_a_formula_gives_the_value_that_was_saved() -> None:
    def more(_: object, page: object) -> None:
        page.write_formula(1, 0, '="Sa" & "lt"', None, "Salt")  # type: ignore[attr-defined]

    rows = [["Team", "Division", "Athlete", "Category"], ["", "Open", "Ada", "Women"]]
    assert read_teams(workbook(rows, more=more), EVENT).teams[0].name == "Salt"


def test_the_sheet_called_teams_is_chosen_and_that_is_said() -> None:
    def more(book: object, _: object) -> None:
        page = book.add_worksheet("TEAMS")  # type: ignore[attr-defined]
        for number, line in enumerate(PLAIN.splitlines()):
            page.write_row(number, 0, line.split(","))

    found = read_teams(workbook([["shopping"], ["bread"]], sheet="Other", more=more), EVENT)
    assert [team.name for team in found.teams] == ["Salt", "Pepper"]
    assert [(one.rule, one.facts["sheet"]) for one in found.findings] == [
        ("table.sheet_chosen", "TEAMS")
    ]


HEAD = "Team,Division,Athlete,Category"
ONE = "Salt,Open,Ada,Women"
FAULTS = [
    (f"{HEAD}\n{ONE.replace('Open', 'Opne')}", "table.not_known_near", 2, "B", '"Open"'),
    (f"{HEAD}\n{ONE.replace('Open', 'Elite')}", "table.not_known", 2, "B", "Open"),
    (f"{HEAD}\n{ONE.replace('Open', '')}", "table.cell_empty", 2, "B", "Fill it in"),
    (f"{HEAD}\n,Open,Ada,Women", "table.cell_empty", 2, "A", "Fill it in"),
    (f"{HEAD}\n{ONE.replace('Women', '')}", "table.cell_empty", 2, "D", "Fill it in"),
    (f"{HEAD}\n{ONE}\nSalt,Late,Bo,Men", "table.differs", 3, "B", "row 2"),
    (f"{HEAD},Reserve\n{ONE},perhaps", "table.no_flag", 2, "E", "yes or no"),
    (f"{HEAD},Seed\n{ONE},first", "table.no_whole", 2, "E", "from 1 to"),
    (f"{HEAD},Seed\n{ONE},0", "table.no_whole", 2, "E", "from 1 to"),
    (f"{HEAD},Seed\n{ONE},{'9' * 40}", "table.no_whole", 2, "E", "from 1 to"),
    (f"{HEAD},Birth date\n{ONE},04/05/1990", "table.no_date", 2, "E", "1990-04-30"),
    (f"{HEAD},Birth date\n{ONE},31.02.1990", "table.no_date", 2, "E", "1990-04-30"),
    (f"{HEAD},E-mail\n{ONE},Ada Moss", "table.no_email", 2, "E", "one e-mail"),
    (f"{HEAD},Place\n{ONE},first", "table.no_place", 2, "E", "one letter"),
    (f"{HEAD},Team id\n{ONE},no/1", "table.id_form", 2, "E", "40 letters"),
    (f"{HEAD},Person\n{ONE},p 1", "table.id_form", 2, "E", "40 letters"),
    (f"{HEAD},Person\n{ONE},p1\nSalt,,Bo,Men,p1", "table.person_differs", 3, "E", "Ada"),
    (f"{HEAD}\nSa\u202elt,Open,Ada,Women", "table.text_unseen", 2, "A", "U+202E"),
    (f"{HEAD}\nSa\x07lt,Open,Ada,Women", "table.text_unseen", 2, "A", "U+0007"),
    (f"{HEAD}\n{'x' * 300},Open,Ada,Women", "table.text_long", 2, "A", "at most 200"),
    (f"{HEAD}\n{ONE},strength, power", "table.cell_beyond", 2, "E", "quotation marks"),
    (f"{HEAD},Entry rnk\n{ONE},1", "table.heading_near", 1, "E", '"entry rank"'),
    (f"{HEAD},Team name\n{ONE},Salt", "table.heading_twice", 1, "E", "column A"),
    ("Team,Division,Athlet,Category\nSalt,Open,Ada,Women", "table.heading_near", 1, "C", '"athlete"'),
    (f"Team,Athlete\n{ONE}", "table.heading_missing", 1, "", '"division"'),
    ("a,b\n1,2", "table.no_headings", 1, "", "team, division, athlete"),
    (HEAD, "table.no_rows", 1, "", "Fill in the list"),
    (f'{HEAD}\n"Salt,Open,Ada,Women\nx', "table.quotes", 2, "", "quotation mark"),
    (f"{HEAD}\n{ONE}\nSalt,,Bo,Women", "team.make_up_wrong", 2, "", ""),
    (f"{HEAD}\n{ONE}\nSalt,,Bo,Men\nSalt,,Cy,Men", "team.make_up_wrong", 2, "", ""),
    (f"{HEAD},Team id\n{ONE},a\nPepper,Open,Bo,Men,a\nSalt,,Cy,Men,a", "table.differs", 3, "A", "row 2"),
    (f"{HEAD}\n\n{ONE}\nPepper,Opne,Bo,Men", "table.not_known_near", 4, "B", '"Open"'),
    (f"{HEAD},Person\n{ONE},p1\nPepper,Open,Ada,Women,p1", "athlete.in_two_teams", 3, "", ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "rule", "row", "column", "mend"), FAULTS)
def test_a_fault_is_placed_and_the_mend_is_named(
    text: str, rule: str, row: int, column: str, mend: str
) -> None:
    event = FOUR if "Late" in text else EVENT
    findings = refused(read_teams, text.encode(), event, "teams.csv")
    assert (rule, row, column) in places(findings)
    found = next(one for one in findings if one.rule == rule)
    where = f"teams.csv, row {row}, column {column}: " if column else f"teams.csv, row {row}: "
    assert sentence(found).startswith(where)
    assert mend in sentence(found)


def test_every_fault_comes_at_once() -> None:
    text = f"""{HEAD},E-mail,Birth date
Salt,Opne,Ada,Women,ada@example.org,1990-02-30
Salt,,Bo,Mem,nobody,
Pepper,Open,Cy,Women,,
Pepper,,Di,Women,,
"""
    assert places(refused(read_teams, text.encode(), EVENT)) == [
        ("table.not_known_near", 2, "B"),
        ("table.no_date", 2, "F"),
        ("table.not_known_near", 3, "D"),
        ("table.no_email", 3, "E"),
        ("team.make_up_wrong", 4, ""),
        ("team.make_up_wrong", 4, ""),
    ]


def test_too_many_teams_are_placed_at_the_last_of_the_division() -> None:
    text = f"{HEAD}\nOne,Late,Ed,Men\nTwo,Late,Flo,Men\n"
    findings = refused(read_teams, text.encode(), FOUR)
    assert places(findings) == [("division.too_many_teams", 3, "")]


def test_a_column_for_oneself_is_passed_over_and_said() -> None:
    found = read(f"{HEAD},Lunch\n{ONE},soup\nSalt,,Bo,Men,cake\n")
    assert [(one.rule, one.severity) for one in found.findings] == [
        ("table.heading_unused", "warning")
    ]


def known_from(found: TeamsRead) -> Known:
    return Known(teams=found.teams, people=found.people)


def test_a_captain_stays_when_a_file_is_loaded_again() -> None:
    first = read(PLAIN)
    captain = first.teams[0].athletes[1].person
    led = (replace(first.teams[0], captain=captain), *first.teams[1:])
    again = read(PLAIN, known=Known(teams=led, people=first.people))
    assert again.teams[0].captain == captain


def test_a_file_loaded_again_changes_no_id() -> None:
    first = read(PLAIN)
    again = read(PLAIN, known=known_from(first))
    assert again == first


def test_a_file_with_a_team_put_in_and_rows_moved_keeps_every_id() -> None:
    first = read(PLAIN)
    lines = PLAIN.splitlines()
    new = ["Thyme,Open,Ed Fox,Men,,,,", "Thyme,,Flo Wye,Women,,,,"]
    moved = "\n".join(
        [lines[0], *new, lines[4].replace("Pepper,", "Pepper,open"), lines[3], lines[1], lines[2]]
    )
    again = read(moved, known=known_from(first))
    assert [(team.id, team.name) for team in again.teams] == [
        ("T03", "Thyme"),
        ("T02", "Pepper"),
        ("T01", "Salt"),
    ]
    names = {person: again.people[person].name for person in again.people}
    assert {person: names[person] for person in first.people} == {
        person: known.name for person, known in first.people.items()
    }
    assert set(again.people) - set(first.people) == {"P005", "P006"}


def test_somebody_who_changes_teams_is_known_by_e_mail_or_birth_date_but_not_by_name_alone() -> (
    None
):
    first = read(PLAIN)
    text = """\
Team,Division,Athlete,Category,E-mail
Thyme,Open,Ada Moss,Women,ADA@example.org
Thyme,,Bo Reed,Men,
"""
    found = read(text, known=known_from(first))
    assert [athlete.person for athlete in found.teams[0].athletes] == ["P001", "P005"]


def test_an_empty_cell_erases_nothing_that_is_known_of_a_person() -> None:
    first = read(PLAIN)
    text = "Team,Division,Athlete,Category,Phone\nSalt,Open,Ada Moss,Women,01632 960009\nSalt,,Bo Reed,Men,\n"
    person = read(text, known=known_from(first)).people["P001"]
    assert (person.phone, person.email) == ("01632 960009", "ada@example.org")
