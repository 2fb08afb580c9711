"""What is open about a team, and which teams may be one entered twice."""

from datetime import date
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import entering
from callroom.model.person import Agreed, Person
from callroom.views.team_doubles import plain, team_doubles
from callroom.views.teams_open import (
    age_on,
    captain_of,
    is_minor,
    shirts_wanted,
    team_open,
    teams_open,
)
from tests.actions.day_building import DIRECTOR
from tests.actions.test_entering import FORM, open_book, pair

WHOLE = Person(
    name="Kim Sample",
    email="kim@example.org",
    emergency_contact="Lou, 0170 1",
    agreed=Agreed(terms=1, at_ms=0, by="self"),
)


def known(**changes: Any) -> dict[str, Person]:
    return {
        "E21-A": WHOLE,
        "E21-B": replace(WHOLE, name="Ada Sample", email="", **changes),
    }


def entered(**settings: Any) -> Any:
    book = open_book(consent="Names on a list.", **settings)
    book.do(FORM, entering.enrol(book.state, pair(21)))
    return book


def opened(book: Any, people: dict[str, Person]) -> Any:
    return next(one for one in teams_open(book.state, people) if one.team == "T21")


def test_nothing_is_open_about_a_team_that_gave_everything() -> None:
    assert opened(entered(), known()).nothing


def test_each_thing_that_lacks_is_told() -> None:
    book = entered(shirt_sizes=("S", "M"), ages_in=("pairs",))
    people = known(agreed=None, emergency_contact="", minor=True)
    found = opened(book, people)
    ada = found.athletes[1]
    assert (ada.consent, ada.minor, ada.guardian_missing) == ("missing", True, True)
    assert (ada.birth_missing, ada.emergency_missing, ada.shirt_missing) == (True, True, True)
    assert (found.consents_missing, found.guardians_missing, found.details_missing) == (1, 1, 2)
    short = team_open(book.state, people, pair(21, athletes=pair(21).athletes[:1]), None)
    assert short.places_open == 1
    nobody = team_open(book.state, {}, pair(21), None)
    assert nobody.no_contact
    assert not nobody.athletes[0].named


def test_a_consent_to_an_earlier_text_is_open_again_one_on_paper_is_not() -> None:
    book = entered()
    changed = replace(book.state.entering, consent="Names and pictures.")
    book.do(DIRECTOR, entering.set_entering(changed))
    people = {"E21-A": WHOLE, "E21-B": replace(WHOLE, agreed=None, waiver="on paper, desk")}
    assert [one.consent for one in opened(book, people).athletes] == ["older", "given"]


def test_shirts_are_counted_of_those_who_come() -> None:
    book = entered(shirt_sizes=("S", "M"))
    people = {"E21-A": replace(WHOLE, shirt="M"), "E21-B": replace(WHOLE, shirt="XL")}
    state = replace(book.state, teams={"T21": pair(21), "T22": pair(22)})
    assert shirts_wanted(state, people) == (("S", 0), ("M", 1), ("XL", 1), ("", 2))
    assert shirts_wanted(open_book().state, people) == ()


def test_who_waits_comes_after_who_is_in_and_owes_nothing() -> None:
    book = open_book(limit=4)
    book.do(FORM, entering.enrol(book.state, pair(21)))
    last = teams_open(book.state, known())[-1]
    assert (last.team, last.waiting, last.owed) == ("T21", True, 0)


@pytest.mark.parametrize(
    ("born", "age"),
    [((2008, 11, 14), 18), ((2008, 11, 15), 17), ((2008, 2, 29), 18)],
)
def test_age_is_that_on_the_day(born: tuple[int, int, int], age: int) -> None:
    assert age_on(date(*born), date(2026, 11, 14)) == age


def test_one_born_on_a_leap_day_is_a_year_older_on_the_first_of_march() -> None:
    assert age_on(date(2008, 2, 29), date(2026, 2, 28)) == 17
    assert age_on(date(2008, 2, 29), date(2026, 3, 1)) == 18


def test_a_birth_date_says_more_than_a_tick() -> None:
    book = entered()
    grown = replace(WHOLE, birth_date=date(1990, 1, 1), minor=True)
    assert is_minor(grown, book.state.event, book.state.entering) is False
    assert is_minor(WHOLE, book.state.event, book.state.entering) is None


def test_letters_go_to_the_captain_else_to_the_first_who_can_be_written_to() -> None:
    people = {"E21-A": replace(WHOLE, email=""), "E21-B": replace(WHOLE, email="b@example.org")}
    assert captain_of(pair(21), people)[0] == "E21-B"
    people["E21-A"] = WHOLE
    assert captain_of(pair(21, captain="E21-B"), people)[0] == "E21-B"
    assert captain_of(pair(21), {}) == ("", Person(name=""))


def test_doubles_are_found_by_name_and_by_person_never_by_a_persons_name_alone() -> None:
    book = open_book()
    for number, name in ((21, "Röpe & Anchor"), (22, "rope   anchor"), (23, "Others")):
        book.do(FORM, entering.enrol(book.state, pair(number, name=name)))
    people = {
        "E21-A": Person(name="Zoë Quinn", birth_date=date(1999, 5, 1)),
        "E22-A": Person(name="Zoe Quinn", birth_date=date(1999, 5, 1)),
        "E23-A": Person(name="Zoe Quinn", birth_date=date(1998, 5, 1)),
        "E22-B": Person(name="Ann", email="ANN@example.org"),
        "E23-B": Person(name="Ann", email="ann@example.org "),
    }
    found = {(one.what, one.team, one.other) for one in team_doubles(book.state, people)}
    assert found == {
        ("name", "T21", "T06"),
        ("name", "T22", "T06"),
        ("person", "T22", "T21"),
        ("person", "T23", "T22"),
    }


def test_names_of_signs_alone_are_no_doubles() -> None:
    assert plain("💪💪") == plain("!!!") == ""
