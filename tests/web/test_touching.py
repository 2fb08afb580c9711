"""The plan as a picture: changed by forms, refused, taken back, solved again, published."""

import itertools
import re
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions.take_change import Change
from callroom.bootstrap import looking
from callroom.bootstrap.language import Language
from callroom.bootstrap.plan_drafts import draft_of
from callroom.bootstrap.plan_touching import draft_in_force
from callroom.bootstrap.planning import Searched
from callroom.model import Finding, PlanTold
from callroom.planner import PlanReply, PlanRequest
from callroom.web import house, pages
from callroom.web.search_shown import taken
from tests.web.building import FakeBook, client_of, example_book, form_token
from tests.web.test_language import NOT_WORDS, TRANSLATIONS, Shown, heard, nameless
from tests.web.test_planning import book_with_draft

KEYS = itertools.count()
HERE = "/director/plan/1/touch"
ALONE = {"hx-request": "true"}


def turn_of(book: FakeBook) -> str:
    hand = draft_of(book, 1).hand
    return str(hand.turn if hand is not None else 0)


def post(client: Any, book: FakeBook, do: str, path: str = HERE, **fields: str) -> Any:
    headers = ALONE if fields.pop("alone", "") else {}
    data = {"form_token": form_token("director"), "key": f"k{next(KEYS)}", "turn": turn_of(book)}
    return client.post(
        path, data=data | {"do": do} | fields, headers=headers, follow_redirects=True
    )


def start_s(book: FakeBook, heat: str = "w5-4") -> int:
    return draft_of(book, 1).plan.heat(heat).start_s


def test_every_heat_is_a_link_that_says_what_it_is() -> None:
    book = book_with_draft()
    assert book.state.plan is not None
    with client_of(book, "director") as client:
        page = client.get(HERE).text
        assert page.count('class="touch-heat') == len(book.state.plan.heats)
        assert re.search(r'aria-label="[^"]*Heat 4, 15:00–15:1\d[^"]*4 of 4 lanes', page)
        assert "No heat is chosen" in page
        chosen = client.get(f"{HERE}?heat=w5-4").text
        assert 'aria-current="true"' in chosen
        assert 'value="move -300"' in chosen
        part = client.get(f"{HERE}?heat=w5-4", headers=ALONE).text
        assert part.lstrip().startswith('<div class="touch"')
        assert "<html" not in part


def test_the_plan_in_force_becomes_a_draft_to_change() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        assert 'action="/director/plan/in-force/touch"' in client.get("/director/plan").text
        data = {"form_token": form_token("director")}
        page = client.post("/director/plan/in-force/touch", data=data, follow_redirects=True)
        assert "Draft 1 by hand" in page.text
    assert draft_of(book, 1).plan == book.state.plan


@pytest.mark.parametrize(
    ("do", "fields", "by_s"),
    [
        ("move -60", {}, -60),
        ("move 300", {"reach": "block"}, 300),
        ("at", {"at": "15:30"}, 1800),
        ("move", {"by": "120", "floor": ""}, 120),
    ],
)
def test_a_heat_is_moved_by_the_buttons_of_the_form(
    do: str, fields: dict[str, str], by_s: int
) -> None:
    book = book_with_draft()
    before = start_s(book)
    with client_of(book, "director") as client:
        page = post(client, book, do, heat="w5-4", **fields)
        assert page.status_code == 200
        assert "one change" in page.text
        assert "Not kept any more" in page.text or "is kept still" in page.text
    assert start_s(book) == before + by_s


def test_the_impossible_is_refused_with_a_sentence_and_the_picture_stays() -> None:
    book = book_with_draft()
    before = draft_of(book, 1)
    with client_of(book, "director") as client:
        for alone in ("", "yes"):
            page = post(client, book, "move -1200", heat="w5-4", alone=alone)
            assert page.status_code == 409
            assert "where heat 3 of Sandbag relay is until" in page.text
            assert 'class="touch-heat' in page.text
        assert post(client, book, "move 60", heat="w9-9").status_code == 409
        assert post(client, book, "at", heat="w5-4", at="half past").status_code == 422
        assert post(client, book, "dance", heat="w5-4").status_code == 422
        assert "Draft 1 was changed in another window" in (
            post(client, book, "move 60", heat="w5-4", turn="7").text
        )
    assert draft_of(book, 1) == before


def test_heats_and_teams_change_places_and_are_locked() -> None:
    book = book_with_draft()
    plan = draft_of(book, 1).plan
    one, other = plan.heat("w5-3"), plan.heat("w5-4")
    with client_of(book, "director") as client:
        page = post(client, book, "swap", heat="w5-3", other="w5-4", alone="yes")
        assert "changed places" in page.text
        assert start_s(book, "w5-3") == other.start_s
        team, there = one.lanes[0].team, other.lanes[0]
        post(client, book, "place", heat="w5-3", team=team, where=f"{there.lane} w5-4")
        assert draft_of(book, 1).plan.heat("w5-4").lane_of(team) == there.lane
        post(client, book, "lock", heat="w5-3")
        post(client, book, f"lock {team}", heat="w5-4")
        assert len(draft_of(book, 1).event.wishes.locks) == 2
        refused = post(client, book, "move 60", heat="w5-3", alone="yes")
        assert "is locked. Unlock it first" in refused.text
        post(client, book, "unlock", heat="w5-3")
        post(client, book, f"unlock {team}", heat="w5-4")
        assert draft_of(book, 1).event.wishes.locks == ()
        for _ in range(6):
            page = post(client, book, "undo")
        assert "as it was found" in page.text
        assert post(client, book, "undo").status_code == 409
        assert draft_of(book, 1).plan == plan
        assert "one change" in post(client, book, "redo").text


def test_a_break_or_an_attraction_is_pinned_changed_and_taken_out() -> None:
    book = book_with_draft()
    with client_of(book, "director") as client:
        fields = {"name": "Tug of war", "at": "13:50", "minutes": "8", "on": "yard"}
        assert (
            "Tug of war pinned from 13:50 until 13:58."
            in post(client, book, "pin", alone="yes", **fields).text
        )
        (pause,) = [one for one in draft_of(book, 1).plan.pauses if one.name == "Tug of war"]
        assert (pause.length_s, pause.floors) == (480, ("yard",))
        longer = fields | {"minutes": "12", "on": ""}
        page = post(client, book, f"pin {pause.id}", alone="yes", **longer)
        assert "Not kept any more" in page.text
        post(client, book, f"shift {pause.id}", by="-300")
        (moved,) = [one for one in draft_of(book, 1).plan.pauses if one.name == "Tug of war"]
        assert (moved.start_s, moved.length_s, moved.floors) == (pause.start_s - 300, 720, ())
        post(client, book, f"unpin {pause.id}")
        assert post(client, book, "pin", name="", at="13:50", minutes="8").status_code == 409
    assert all(one.name != "Tug of war" for one in draft_of(book, 1).plan.pauses)


def test_what_was_changed_by_hand_is_published_with_its_locks() -> None:
    book = book_with_draft()
    with client_of(book, "director") as client:
        post(client, book, "move 300", heat="w5-4")
        page = post(client, book, "lock", heat="w5-4")
        assert "Publishing it changes the event’s wishes too" in page.text
        assert "changed by hand" in client.get("/director/plan").text
        wanted = draft_of(book, 1)
        post(client, book, "publish", "/director/plan/1")
    assert book.state.plan is not None
    assert book.state.plan.heats == wanted.plan.heats
    assert book.state.event == wanted.event != example_book().state.event


def test_a_way_out_is_taken_in_the_draft_and_solved_at_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    book = book_with_draft()
    plan = draft_of(book, 1).plan
    asked: list[PlanRequest] = []

    def search(request: PlanRequest, _met: object, told: Any, *_: object) -> Searched:
        asked.append(request)
        late = Finding("planner.wishes_conflict", "error", "day", {"heats": 3})
        reply = PlanReply(status="infeasible", plan=None, certificate_s=0, findings=(late,))
        if len(asked) > 1:
            reply = PlanReply(status="solved", plan=plan, certificate_s=60)
        told(reply)
        return Searched(reply=reply)

    monkeypatch.setattr(looking, "search_apart", search)
    event = draft_of(book, 1).event
    change = Change(kind="rest_less", subject="", level=300)
    with client_of(book, "director") as client:
        post(client, book, "solve", seconds="20")
        client.house.searches.wait(20)
        assert "contradict each other" in client.get(HERE).text
        post(client, book, f"take {taken([change])}")
        client.house.searches.wait(20)
        page = client.get(HERE).text
    assert asked[0].event.wishes == event.wishes
    assert asked[1].event.wishes.rest_s == event.wishes.rest_s - 300
    assert draft_of(book, 1).event == asked[1].event
    assert book.state.event == event
    assert draft_of(book, 2).event == asked[1].event
    assert 'href="/director/plan/compare?before=1&amp;after=2"' in page


def test_a_draft_that_cannot_be_told_says_so() -> None:
    book = book_with_draft()
    told = PlanTold(seq=1, at_ms=book.now_ms(), frozen=True)
    with client_of(book, "director") as client:
        assert 'value="publish"' in client.get(HERE).text
        book.state = replace(book.state, plan_told=told)
        assert "is frozen" in client.get(HERE).text
        book.state = replace(book.state, kit=())
        page = client.get(HERE).text
    assert "have changed since" in page
    assert 'value="publish"' not in page


def test_no_text_of_the_picture_bypasses_the_translations(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def marked(_wanted: str) -> Language:
        return Language("xx", TRANSLATIONS)

    for module in (pages, house):
        monkeypatch.setattr(module, "language_of", marked)
    book = FakeBook(nameless(example_book().state))
    draft_in_force(book, book.state, book.now_ms())
    shown = Shown()
    with client_of(book, "director") as client:
        post(client, book, "move 900", heat="w5-2")
        post(client, book, "lock", heat="w5-4")
        for path in (f"{HERE}?heat=w5-2", f"{HERE}?heat=w5-4", "/director/plan/1"):
            shown.feed(client.get(path).text)
    assert set(re.findall(r"[^\W\d_]+", heard(shown).lower())) - NOT_WORDS == set()
