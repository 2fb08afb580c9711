"""Crew from a table: posts, times, and the volunteers who also compete."""

import pytest

from callroom.exchange import Known, read_crew, read_event, read_teams
from callroom.model import CrewMember
from callroom.model.crew import POSTS
from callroom.model.person import Person
from callroom.views.sentences import sentence
from tests.exchange.files import SMALL_EVENT, places, refused
from tests.exchange.sheets import workbook

EVENT = read_event(SMALL_EVENT.encode())
TEAMS = read_teams(
    b"Team,Division,Athlete,Category\nSalt,Open,Ada Moss,Women\nSalt,,Bo Reed,Men\n", EVENT
)
KNOWN = Known(teams=TEAMS.teams, people=TEAMS.people)

CREW = """\
Name,Posts,Competes in,Experienced,Free from,Free until,E-mail,Gym
Cy Lund,"Judge, head judge",,yes,,,cy@example.org,Loft
ada  moss,desk and first aid,salt,,09:30,12:00,,
"""


def test_volunteers_are_read_with_their_posts_and_times() -> None:
    found = read_crew(CREW.encode(), EVENT, known=KNOWN)
    assert found.crew[0] == CrewMember(
        person="P003", posts=("judge", "head_judge"), experienced=True, gym="Loft"
    )
    assert found.people["P003"] == Person(name="Cy Lund", email="cy@example.org")
    assert found.findings == ()


def test_who_also_competes_keeps_the_one_id() -> None:
    second = read_crew(CREW.encode(), EVENT, known=KNOWN).crew[1]
    assert (second.person, second.team) == ("P001", "T01")
    assert second.posts == ("desk", "first_aid")
    assert (second.free_from_s, second.free_until_s) == (1800, 3 * 3600)


def test_teams_with_family_in_them_are_found_by_name() -> None:
    text = "Name,Posts,Family in\nDi Okoro,judge,salt; T01 ;\n"
    assert read_crew(text.encode(), EVENT, known=KNOWN).crew[0].family_in == ("T01",)
    wrong = b"Name,Posts,Family in\nDi Okoro,judge,salt;pepper\n"
    assert places(refused(read_crew, wrong, EVENT, known=KNOWN)) == [("table.not_known", 2, "C")]


def test_a_person_id_in_the_file_is_kept() -> None:
    text = "Name,Posts,Person\nDi Okoro,kit,vol-7\n"
    assert read_crew(text.encode(), EVENT).crew[0].person == "vol-7"


def test_a_file_loaded_again_changes_no_id() -> None:
    first = read_crew(CREW.encode(), EVENT, known=KNOWN)
    known = Known(teams=TEAMS.teams, crew=first.crew, people={**TEAMS.people, **first.people})
    assert read_crew(CREW.encode(), EVENT, known=known).crew == first.crew


def test_a_workbook_reads_like_a_csv_with_times_as_times() -> None:
    data = workbook([["Name", "Posts", "Free from"], ["Di", "kit", 0.4]])
    assert places(refused(read_crew, data, EVENT)) == [("table.no_clock", 2, "C")]

    def more(book: object, page: object) -> None:
        clock = book.add_format({"num_format": "hh:mm"})  # type: ignore[attr-defined]
        page.write_number(1, 2, 0.40625, clock)  # type: ignore[attr-defined]

    data = workbook([["Name", "Posts", "Free from"], ["Di", "kit"]], more=more)
    assert read_crew(data, EVENT).crew[0].free_from_s == 45 * 60


def test_every_post_can_be_written_with_blanks() -> None:
    text = "Name,Posts\nDi," + "/".join(post.replace("_", " ") for post in POSTS) + "\n"
    assert read_crew(text.encode(), EVENT).crew[0].posts == POSTS


HEAD = "Name,Posts,Competes in,Free from,Free until"
FAULTS = [
    (f"{HEAD}\nDi,juge,,,", "crew.post_unknown_near", "B", '"judge"'),
    (f"{HEAD}\nDi,astronaut,,,", "crew.post_unknown", "B", "head_judge, judge"),
    (f"{HEAD}\nDi,,,,", "table.cell_empty", "B", "Fill it in"),
    (f"{HEAD}\n,desk,,,", "table.cell_empty", "A", "Fill it in"),
    (f"{HEAD}\nDi,desk,Slat,,", "table.not_known_near", "C", '"Salt"'),
    (f"{HEAD}\nDi,desk,Salt,,", "crew.not_among_athletes", "A", "as it stands there"),
    (f"{HEAD}\nDi,desk,,9am,", "table.no_clock", "D", "09:30"),
    (f"{HEAD}\nDi,desk,,12:00,10:00", "crew.never_free", "", ""),
    (f"{HEAD},Person\nDi,desk,,,,x\nEd,desk,,,,x", "table.person_differs", "F", "Di"),
    (f"{HEAD},Person\nDi,desk,,,,x\nDi,desk,,,,x", "crew.twice", "", ""),
]


@pytest.mark.parametrize(("text", "rule", "column", "mend"), FAULTS)
def test_a_fault_is_placed_and_the_mend_is_named(
    text: str, rule: str, column: str, mend: str
) -> None:
    findings = refused(read_crew, text.encode(), EVENT, "crew.csv", KNOWN)
    row = text.count("\n") + 1
    assert (rule, row, column) in places(findings)
    found = next(one for one in findings if one.rule == rule)
    assert sentence(found).startswith(f"crew.csv, row {row}")
    assert mend in sentence(found)
