"""What is kept back is in nothing that a stranger can get; the staff see it all the same."""

import json
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import msgspec
import pytest
from msgspec.structs import replace

from callroom.actions import day
from callroom.actions.verdicts import set_embargo
from callroom.model import Result, SheetRef, State
from callroom.views.page_head import public_at
from callroom.views.results import results
from callroom.views.standings import standings
from callroom.views.story import story
from callroom.views.timetable import CREW
from callroom.web.assets import Assets
from callroom.web.pages import Pages
from callroom.web.topics import Topics
from tests.web.building import DIRECTOR, FakeBook, client_of, form_token
from tests.web.test_podium import finished_state

HIDDEN = "w5"
# Nobody else has these numbers, and no clock shows them.
PLANTED = ("7919", "6271")


@cache
def planted_state() -> State:
    """Every heat over; the last workout has results known by their numbers, a re-run too."""
    book = FakeBook(finished_state())
    teams = [sheet.team for sheet in book.state.sheets.values() if sheet.workout == HIDDEN]
    for team, work in zip(teams, PLANTED, strict=False):
        ref = SheetRef(workout=HIDDEN, part="a", team=team)
        odd = Result(outcome="capped", work=int(work))
        book.do(DIRECTOR, day.correct_score(ref, odd, f"planted {work}"))
    return book.state


def kept_back(**changes: Any) -> FakeBook:
    book = FakeBook(planted_state(), **changes)
    book.do(DIRECTOR, set_embargo(HIDDEN, hidden=True))
    assert book.state.plan is not None
    assert book.state.event is not None
    book.set_now(int(book.state.event.instant(book.state.plan.finish_s).timestamp() * 1000))
    return book


def public_texts(book: FakeBook) -> Iterator[tuple[str, str]]:
    """Everything a stranger's browser can reach from the start page, and every live topic."""
    event = book.state.event
    assert event is not None
    divisions = [f"standings/{division.id}" for division in event.divisions]
    topics = ["now", "board", "timetable", "screen", "announcer", "raised", *divisions]
    topics += [f"clock/{floor.id}" for floor in event.floors]
    drawing = Topics(Pages(Assets()))
    for name in topics:
        yield f"/live/{name}", drawing.draw(name, book.state, book.now_ms()) or ""
    with client_of(book) as client:
        seen: set[str] = set()
        waiting = ["/", "/screen", "/announcer", "/clock", "/calendar.ics", "/rulings"]
        while waiting:
            path = waiting.pop()
            if path in seen or path.startswith("/static/"):
                continue
            seen.add(path)
            answer = client.get(path)
            # A token or a digest may hold any four digits by chance.
            yield path, re.sub(r"[0-9a-f]{12,}", "", answer.text)
            waiting += re.findall(r'(?:href|src)="(/[^"#?]*)', answer.text)
        assert len(seen) > 20


def test_nothing_of_it_is_in_anything_the_public_gets() -> None:
    book = kept_back()
    for path, text in public_texts(book):
        for planted in PLANTED:
            assert planted not in text, path
    audience = public_at(book.state, book.now_ms())
    told = msgspec.json.encode(results(book.state, audience)).decode()
    assert not any(planted in told for planted in PLANTED)
    shown = [one for row in json.loads(told) for one in row["parts"] if one["workout"] == HIDDEN]
    assert {(one["place"], one["result"], one["outcome"]) for one in shown} == {
        (None, "", "awaited")
    }


def test_without_the_embargo_the_same_search_finds_it() -> None:
    book = kept_back()
    book.do(DIRECTOR, set_embargo(HIDDEN, hidden=False))
    found = {planted for _, text in public_texts(book) for planted in PLANTED if planted in text}
    assert found == set(PLANTED)


def test_neither_does_a_printed_book_of_results_for_the_public_tell_of_it() -> None:
    book = kept_back()
    audience = public_at(book.state, book.now_ms())
    for division in book.state.event.divisions:  # type: ignore[union-attr]
        public, whole = (story(book.state, division.id, one) for one in (audience, CREW))
        assert HIDDEN not in {step.workout.id for step in public.steps}
        assert HIDDEN in {step.workout.id for step in whole.steps}


def test_places_and_sums_are_as_if_it_had_not_been_done() -> None:
    """Neither points nor reasons nor the time of the last change tell of it."""
    book = kept_back()
    audience = public_at(book.state, book.now_ms())
    bare = replace(
        book.state,
        sheets={key: one for key, one in book.state.sheets.items() if one.workout != HIDDEN},
        subjects={key: seq for key, seq in book.state.subjects.items() if f":{HIDDEN}/" not in key},
        embargo={},
    )
    for division in book.state.event.divisions:  # type: ignore[union-attr]
        one, other = (standings(state, division.id, audience) for state in (book.state, bare))
        assert [(row.team, row.place, row.points, row.reasons) for row in one.rows] == [
            (row.team, row.place, row.points, row.reasons) for row in other.rows
        ]
        assert (one.counted, one.confirmed, one.final) == (other.counted, other.confirmed, False)
        assert [column.kept_back for column in one.columns].count(True) == 1


@pytest.mark.parametrize("role", ["head_judge", "desk", "director"])
def test_the_staff_still_see_it(role: Any) -> None:
    book = kept_back()
    heat = next(one for one in book.state.plan.heats if one.workout == HIDDEN)  # type: ignore[union-attr]
    team = next(
        sheet.team
        for sheet in book.state.sheets.values()
        if sheet.workout == HIDDEN and sheet.correction is not None
    )
    heat = book.state.plan.heat_of(HIDDEN, team) or heat  # type: ignore[union-attr]
    with client_of(book, role) as client:
        assert any(planted in client.get(f"/desk/heat/{heat.id}").text for planted in PLANTED)


def test_a_rule_of_the_event_keeps_it_back_until_the_director_decides() -> None:
    event = planted_state().event
    assert event is not None
    ruled = replace(event, rules=replace(event.rules, embargo=(HIDDEN,)))
    book = FakeBook(replace(planted_state(), event=ruled))
    division = ruled.divisions[0].id
    with client_of(book, "director") as client:
        assert "kept back" in client.get(f"/standings/{division}").text
        data = {"form_token": form_token("director"), "key": "k", "do": f"let:{HIDDEN}"}
        assert client.post("/director/embargo", data=data).status_code == 200
        assert "kept back" not in client.get(f"/standings/{division}").text


def test_what_is_taken_away_by_the_director_is_whole() -> None:
    book = kept_back()
    told = msgspec.json.encode(results(book.state)).decode()
    assert all(planted in told for planted in PLANTED)
