"""Entering: open times, the turn of each form, the waiting list, and whose team is whose."""

from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day, entering
from callroom.actions.checks import check_book
from callroom.actions.entering_rules import team_device
from callroom.actions.load import load
from callroom.actions.request import propose
from callroom.journal.entries import bodies
from callroom.model import (
    Actor,
    Athlete,
    BadInput,
    NotAllowed,
    Refusal,
    Stale,
    Team,
    milliseconds,
)
from callroom.model.entering import Entering, next_team_id
from callroom.model.places_left import outcome_now, places_left, waiting_in
from tests.actions.day_building import DIRECTOR
from tests.views.building import example_event
from tests.web.building import FakeBook, example_book

FORM = Actor(role="public", device="form", name="entry form")
DAY_MS = milliseconds(example_event().starts_at)
OPENS_MS = DAY_MS - 40 * 86_400_000
CLOSES_MS = DAY_MS - 7 * 86_400_000


def open_book(limit: int = 0, **settings: Any) -> FakeBook:
    """The example book while teams may enter the pairs, of which there are four already."""
    event = example_event()
    divisions = tuple(
        replace(one, team_limit=limit) if one.id == "pairs" else one for one in event.divisions
    )
    book = example_book(event=replace(event, divisions=divisions))
    book.set_now(OPENS_MS + 1)
    asked = Entering(**{"opens_ms": OPENS_MS, "closes_ms": CLOSES_MS, **settings})
    book.do(DIRECTOR, entering.set_entering(asked))
    return book


def pair(number: int, **changes: Any) -> Team:
    athletes = tuple(
        Athlete(place=place, category="women", person=f"E{number}-{place}") for place in "AB"
    )
    team = Team(id=f"T{number}", name=f"Late {number}", division="pairs", athletes=athletes)
    return replace(team, **changes)


def own(number: int) -> Actor:
    return Actor(role="public", device=team_device(f"T{number}"), name="a team")


def test_there_is_room_until_the_limit_and_then_a_waiting_list_in_turn() -> None:
    book = open_book(limit=5)
    for number in (21, 22, 23):
        book.do(FORM, entering.enrol(book.state, pair(number)))
    assert "T21" in book.state.teams
    assert "T22" not in book.state.teams
    assert [one.team.id for one in waiting_in(book.state, "pairs")] == ["T22", "T23"]
    with pytest.raises(Refusal, match="no_room"):
        book.do(DIRECTOR, entering.accept("T22"))
    book.do(own(21), entering.withdraw(book.state, "T21"))
    assert places_left(book.state, "pairs") == 1
    # A place that comes free is the first's in turn, not the next form's.
    assert outcome_now(book.state, "pairs") == "waiting"
    book.do(DIRECTOR, entering.accept("T22"))
    assert book.state.enrolments["T22"].status == "in"
    assert book.state.teams["T22"] == pair(22)
    book.do(own(23), entering.withdraw(book.state, "T23"))
    assert waiting_in(book.state, "pairs") == ()


def test_a_form_that_rests_on_an_old_state_is_sent_again_not_stored_wrongly() -> None:
    book = open_book(limit=5)
    seen = book.state
    book.do(FORM, entering.enrol(seen, pair(21)))
    with pytest.raises(Stale, match="other_outcome"):
        book.do(FORM, entering.enrol(seen, pair(22)))
    with pytest.raises(Stale, match="id_taken"):
        book.do(FORM, entering.enrol(seen, pair(21)))


def test_where_the_director_accepts_each_a_form_waits_in_an_empty_division_too() -> None:
    book = open_book(accept_each=True)
    book.do(FORM, entering.enrol(book.state, pair(21)))
    assert book.state.enrolments["T21"].status == "waiting"
    book.do(DIRECTOR, entering.decline("T21", "not a pair of this town"))
    with pytest.raises(Refusal, match="not_waiting"):
        book.do(DIRECTOR, entering.accept("T21"))


@pytest.mark.parametrize("now_ms", [OPENS_MS - 1, CLOSES_MS, DAY_MS])
def test_teams_enter_and_change_only_while_it_is_open_the_director_at_any_time(now_ms: int) -> None:
    book = open_book()
    book.do(FORM, entering.enrol(book.state, pair(21)))
    book.set_now(now_ms)
    with pytest.raises(Refusal, match="not_open"):
        book.do(FORM, entering.enrol(book.state, pair(22)))
    with pytest.raises(Refusal, match="not_open"):
        book.do(own(21), entering.revise(pair(21, name="Other"), {}))
    book.do(DIRECTOR, entering.enrol(book.state, pair(22)))
    book.do(DIRECTOR, entering.revise(pair(21, name="Other"), {}))
    assert book.state.teams["T21"].name == "Other"


def test_a_consent_is_taken_until_the_day_begins() -> None:
    book = open_book()
    book.do(FORM, entering.enrol(book.state, pair(21)))
    book.set_now(DAY_MS - 1)
    book.do(own(21), entering.revise(pair(21), {}))
    book.set_now(DAY_MS)
    with pytest.raises(Refusal, match="day_has_begun"):
        book.do(own(21), entering.revise(pair(21), {}))


def test_a_link_opens_its_own_team_and_nothing_of_the_directors() -> None:
    book = open_book()
    for number in (21, 22):
        book.do(FORM, entering.enrol(book.state, pair(number)))
    for request in (
        entering.revise(pair(22, name="Mine now"), {}),
        entering.withdraw(book.state, "T22"),
    ):
        with pytest.raises(NotAllowed):
            book.do(own(21), request)
    for changed in (pair(21, entry_rank=1), pair(21, division="open")):
        with pytest.raises(NotAllowed):
            book.do(own(21), entering.revise(changed, {}))
    with pytest.raises(NotAllowed):
        book.do(own(21), day.withdraw_team("T21", "somebody is ill"))
    with pytest.raises(NotAllowed):
        book.do(own(21), entering.accept("T22"))
    book.set_now(DAY_MS)
    with pytest.raises(Refusal, match="day_has_begun"):
        book.do(own(21), entering.withdraw(book.state, "T21"))


def test_a_form_names_no_more_of_a_category_than_the_division_has() -> None:
    book = open_book()
    third = Athlete(place="C", category="men", person="E21-C")
    with pytest.raises(BadInput):
        book.do(FORM, entering.enrol(book.state, pair(21, athletes=(third,))))
    # Fewer is a line-up that is not complete yet.
    book.do(FORM, entering.enrol(book.state, pair(21, athletes=pair(21).athletes[:1])))


def test_a_text_that_changes_is_a_new_one_and_the_old_stays_known() -> None:
    book = open_book(consent="Names on a list.")
    book.do(DIRECTOR, entering.set_entering(replace(book.state.entering, accept_each=True)))
    changed = replace(book.state.entering, waiver="At your own risk, within the law.")
    book.do(DIRECTOR, entering.set_entering(changed))
    assert [(one.number, one.waiver) for one in book.state.terms] == [
        (1, ""),
        (2, "At your own risk, within the law."),
    ]


def test_settings_must_close_after_they_open_and_know_their_divisions() -> None:
    book = open_book()
    with pytest.raises(Refusal, match="closes_first"):
        book.do(DIRECTOR, entering.set_entering(Entering(opens_ms=5, closes_ms=5)))
    with pytest.raises(Refusal, match="unknown"):
        book.do(DIRECTOR, entering.set_entering(Entering(ages_in=("masters",))))


def test_a_team_that_has_run_stays_in_its_division() -> None:
    book = example_book()
    heat = book.state.plan.heats[0] if book.state.plan is not None else None
    assert heat is not None
    team = book.state.teams[heat.teams[0]]
    moved = replace(team, division="open", athletes=())
    assert book.state.event is not None
    book.set_now(milliseconds(book.state.event.instant(heat.start_s)))
    book.do(DIRECTOR, day.call_heat(heat.id))
    book.do(DIRECTOR, day.start_heat(heat.id, book.now_ms()))
    with pytest.raises(Refusal, match="has_run"):
        book.do(DIRECTOR, entering.enter_by_hand(moved, {}))


def test_a_division_in_which_teams_wait_cannot_be_taken_away() -> None:
    book = open_book(accept_each=True)
    event = book.state.event
    assert event is not None
    extra = replace(event.divisions[1], id="extra", name="Extra")
    more = replace(event, divisions=(*event.divisions, extra))
    book.do(DIRECTOR, propose(bodies.EventSet(event=more)))
    book.do(FORM, entering.enrol(book.state, pair(21, division="extra")))
    fewer = event
    with pytest.raises(Refusal, match="has_teams"):
        book.do(DIRECTOR, propose(bodies.EventSet(event=fewer)))
    book.do(DIRECTOR, entering.decline("T21", "full"))
    book.do(DIRECTOR, propose(bodies.EventSet(event=fewer)))


def test_what_the_director_lets_stand_is_told_and_hinders_no_loading() -> None:
    book = open_book(limit=5)
    book.do(FORM, entering.enrol(book.state, pair(21, name="Salt Sisters")))
    for number in (22, 23):
        book.do(DIRECTOR, entering.enter_by_hand(pair(number), {}))
    found = {one.rule: one.severity for one in check_book(book.state)}
    assert found["team.name_twice"] == "warning"
    assert found["division.too_many_teams"] == "warning"
    event = book.state.event
    assert event is not None
    book.do(DIRECTOR, load(book.state, event=replace(event, name="Another name")))
    # One more in the full division is refused as ever.
    with pytest.raises(BadInput):
        load(book.state, teams=(pair(24),))
    # A team that has left takes nobody's place.
    for number in (21, 22, 23):
        book.do(DIRECTOR, day.withdraw_team(f"T{number}", ""))
    load(book.state, teams=(pair(24),))


def test_ids_of_teams_fill_the_first_gap() -> None:
    assert next_team_id({"T01", "T03"}) == "T02"
