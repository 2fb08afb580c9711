"""What is still open: each thing appears with the state that makes it, and goes when mended."""

from datetime import date, timedelta
from typing import Any

from msgspec.structs import replace

from callroom.model import CrewMember, Event, State, Team
from callroom.standards import library_with
from callroom.views.open_list import OpenItem, judges_at_peak, most_urgent, open_list
from callroom.views.sentences.open_list import SENTENCES
from tests.views.building import example_state


def event_of(state: State) -> Event:
    assert state.event is not None
    return state.event


def listed(state: State, today: date | None = None) -> tuple[OpenItem, ...]:
    event = event_of(state)
    movements = library_with(event.movements).movements
    return open_list(state, event, movements, {}, today or event.day - timedelta(days=30))


def rules(state: State) -> set[str]:
    return {one.says.rule for one in listed(state) if one.says is not None}


def changed(state: State, **fields: Any) -> State:
    return replace(state, event=replace(event_of(state), **fields))


def test_what_the_book_lacks_is_open_and_what_it_has_is_not() -> None:
    state = example_state()
    assert {"open.plan", "open.divisions"} & rules(state) == set()
    assert "open.plan" in rules(replace(state, plan=None))
    assert "open.cause" in rules(changed(state, cause=""))
    assert "open.cause" not in rules(changed(state, cause="The kitchen"))
    assert "open.address" in rules(changed(state, address=""))
    assert "open.address" not in rules(changed(state, address="http://10.0.0.2:8000"))


def test_divisions_that_only_expected_teams_are_in_are_empty() -> None:
    state = example_state()
    division = event_of(state).divisions[0]
    expected = Team(id="expected-1", name="Expected team 1", division=division.id)
    found = listed(replace(state, teams={"expected-1": expected}, team_status={}))
    told = {one.says.rule: one.says.facts for one in found if one.says is not None}
    assert told["open.expected"]["count"] == 1
    assert division.name in str(told["open.divisions"]["names"])


def test_judges_are_counted_against_the_lanes_in_use_at_once() -> None:
    state = example_state()
    wanted = judges_at_peak(state, event_of(state))
    crew = {f"j{n}": CrewMember(person=f"j{n}", posts=("judge",)) for n in range(wanted)}
    assert "open.judges" not in rules(replace(state, crew=crew))
    crew.popitem()
    assert "open.judges" in rules(replace(state, crew=crew))
    unplanned = replace(state, plan=None)
    lanes = sum(len(floor.open_lanes) for floor in event_of(state).floors)
    assert judges_at_peak(unplanned, event_of(state)) >= lanes


def test_the_earliest_due_comes_first_and_what_is_over_is_late() -> None:
    state = replace(example_state(), plan=None)
    day = event_of(state).day
    found = listed(state, day - timedelta(days=21))
    assert [one.by for one in found] == sorted(one.by for one in found)
    plan = next(one for one in found if one.says is not None and one.says.rule == "open.plan")
    assert (plan.days, plan.late) == (21, False)
    tomorrow = listed(state, day - timedelta(days=20))
    assert next(one for one in tomorrow if one.path == "/director/plan").late
    assert most_urgent(found) == found[:3]


def test_every_open_thing_has_a_sentence() -> None:
    state = changed(replace(example_state(), plan=None, crew={}, kit=()), cause="", venue="")
    assert rules(state) <= SENTENCES.keys()
