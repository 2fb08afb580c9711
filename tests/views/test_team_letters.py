"""What letters to captains say: short, whole, and only what is so."""

from typing import Any

from msgspec.structs import replace

from callroom.model.iban import BadIban, read_iban, spaced_iban
from callroom.model.paying import PayTo
from callroom.model.person import Person
from callroom.model.post import LetterKind
from callroom.views.paying import payable, reference_of
from callroom.views.team_letters import Letter, letter_text
from callroom.views.teams_open import team_open
from callroom.views.timetable import Audience
from tests.actions.test_entering import pair
from tests.views.building import example_state

KIM = Person(name="Kim Sample", email="kim@example.org")


def text_of(kind: LetterKind, state: Any = None, **changes: Any) -> Any:
    state = example_state() if state is None else state
    team = state.teams["T13"]
    opened = replace(team_open(state, {}, team, None), waiting=changes.pop("waiting", False))
    letter = Letter(kind=kind, team=team, captain=KIM, open=opened)
    return letter_text(state, replace(letter, **changes), Audience(public=True, now_s=0))


def test_who_is_in_is_told_so_with_what_is_open_and_the_link() -> None:
    text = text_of("confirmation", link="https://gala.example/enter/team/abc", own_words="Yay.")
    assert text.subject == "Two Left Feet is in: Harbour Hall Team Day"
    assert text.body.startswith("Hello Kim,\n\nTwo Left Feet is in: Pairs at Harbour Hall Team Day")
    assert "Still open:\n- Details of 2 athletes are missing." in text.body
    assert "https://gala.example/enter/team/abc" in text.body
    assert "Yay.\n" in text.body
    assert text.body.endswith("See you there!\nHarbour Hall Team Day\n")


def test_who_waits_is_asked_for_nothing() -> None:
    text = text_of("confirmation", waiting=True)
    assert text.subject == "Two Left Feet: on the waiting list of Harbour Hall Team Day"
    assert "Still open" not in text.body
    assert "Nothing is to be paid before that." in text.body


def test_the_letter_about_the_day_has_every_heat_and_hides_what_is_not_released() -> None:
    text = text_of("day", day_link="http://192.168.1.20:8000/team/T13")
    assert "09:00 Long haul: Main floor, lane 1. Be there at 08:45." in text.body
    assert "Heavy single" not in text.body
    assert "Workout 3" in text.body
    assert text.body.count("lane") == 5
    assert "http://192.168.1.20:8000/team/T13" in text.body


def test_a_reminder_says_how_to_pay_with_the_reference() -> None:
    state = example_state()
    pay = payable(state, state.teams["T13"], PayTo())
    assert pay is None  # the budget asks nothing
    text = text_of("reminder")
    assert text.subject == "Two Left Feet: still open for Harbour Hall Team Day"
    assert reference_of(pair(7, name=" Rope  and Anchor ")) == "T7 Rope and Anchor"
    assert len(reference_of(pair(7, name="x" * 300))) == 70


def test_account_numbers_are_checked_by_their_digits() -> None:
    # The first two are the examples of the registry of ISO 13616 for Great Britain and Germany.
    assert read_iban("GB29 NWBK 6016 1331 9268 19") == "GB29NWBK60161331926819"
    assert read_iban("de89370400440532013000") == "DE89370400440532013000"
    assert spaced_iban("BE72000000001616") == "BE72 0000 0000 1616"
    for wrong in ("GB29NWBK60161331926818", "DE8937040044053201300", "account 5", ""):
        try:
            read_iban(wrong)
        except BadIban:
            continue
        raise AssertionError(wrong)
