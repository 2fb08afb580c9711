"""The floor manager's page: who may use it, what its buttons do, and what everybody is told."""

import re

from callroom.actions import day
from callroom.model import milliseconds
from callroom.web.assets import Assets
from callroom.web.pages import Pages
from callroom.web.topics import Topics
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token

MINUTE_MS = 60_000


def late_book(minutes: int = 20) -> FakeBook:
    """The example event, its first heat walked on `minutes` late."""
    book = example_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    first = plan.heat("w1-1")
    book.set_now(milliseconds(event.instant(first.start_s)) + minutes * MINUTE_MS)
    book.do(DIRECTOR, day.call_heat("w1-1"))
    book.do(DIRECTOR, day.send_on_floor("w1-1"))
    return book


def press(book: FakeBook, deed: str, heat: str, team: str = "") -> int:
    seq = book.state.subjects.get(f"heat:{heat}", 0)
    with client_of(book, "crew") as client:
        form = {"form_token": form_token("crew"), "do": f"{deed}|{heat}|{team}|{seq}"}
        answer = client.post("/floor/hall", data=form, follow_redirects=False)
    status: int = answer.status_code
    return status


def test_each_floor_has_its_own_page_for_who_runs_it() -> None:
    book = example_book()
    with client_of(book, "crew") as client:
        first = client.get("/floor")
        assert first.status_code == 200
        assert 'data-live="floor/hall"' in first.text
        yard = client.get("/floor/yard").text
        assert "Sandbag relay" in yard
        assert "Long haul" not in yard
        assert client.get("/floor/attic").status_code == 404
    for role, status in (("desk", 403), ("judge", 403), (None, 401)):
        with client_of(book, role) as client:  # type: ignore[arg-type]
            assert client.get("/floor/hall").status_code == status
    with client_of(book) as client:
        assert client.get("/live/floor/hall").status_code == 401


def test_its_buttons_take_a_heat_from_call_to_end_and_back() -> None:
    book = example_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    heat = plan.heat("w1-1")
    book.set_now(milliseconds(event.instant(heat.start_s)))
    assert press(book, "call", "w1-1") == 303
    assert press(book, "arrive", "w1-1", heat.teams[0]) == 303
    assert press(book, "absent", "w1-1", heat.teams[1]) == 303
    assert press(book, "await", "w1-1", heat.teams[0]) == 303
    assert press(book, "arrive", "w1-1", heat.teams[0]) == 303
    run = book.state.heat_run("w1-1")
    assert (run.arrived, run.no_shows) == (heat.teams[:1], heat.teams[1:2])
    press(book, "walk", "w1-1")
    press(book, "back", "w1-1")
    assert book.state.heat_run("w1-1").on_floor_ms is None
    press(book, "walk", "w1-1")
    press(book, "start", "w1-1")
    press(book, "finish", "w1-1")
    assert book.state.heat_run("w1-1").stage == "finished"
    missed = book.state.sheets[f"w1/a/{heat.teams[1]}/1"].counting
    assert missed is not None
    assert missed.outcome == "did_not_start"


def test_a_button_of_nothing_and_a_heat_too_early_are_refused_in_words() -> None:
    book = example_book()
    assert press(book, "dance", "w1-1") == 422
    book.set_now(0)
    with client_of(book, "crew") as client:
        form = {"form_token": form_token("crew"), "do": "walk|w1-1||0"}
        answer = client.post("/floor/hall", data=form, headers={"hx-request": "true"})
    assert "not everyone is here" in answer.text


def expected_on(text: str) -> list[str]:
    """The times a page marks as expected."""
    return re.findall(r'class="expected">about <time datetime="[^"]+">([\d:]+)</time>', text)


def test_everyone_who_waits_is_told_how_late_it_is() -> None:
    book = late_book()
    with client_of(book) as client:
        for path in ("/", "/board", "/timetable"):
            assert expected_on(client.get(path).text), path
        assert "runs about " in client.get("/").text
    book = late_book(0)
    with client_of(book) as client:
        for path in ("/", "/board", "/timetable"):
            assert not expected_on(client.get(path).text), path


def test_what_is_expected_moves_with_the_clock_alone() -> None:
    book = late_book(0)
    with client_of(book) as client:
        assert not expected_on(client.get("/board").text)
        book.set_now(book.now_ms() + 90 * MINUTE_MS)
        before = expected_on(client.get("/board").text)
        book.set_now(book.now_ms() + 10 * MINUTE_MS)
        after = expected_on(client.get("/board").text)
    assert before
    assert all(one < other for one, other in zip(before, after, strict=True))


def test_a_team_is_told_on_its_own_page() -> None:
    book = late_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    waiting = plan.heat("w1-2").teams[0]
    with client_of(book) as client:
        page = client.get(f"/team/{waiting}").text
        assert f'data-live="team/{waiting}"' in page
        assert len(expected_on(page)) >= 1
        running = client.get(f"/team/{plan.heat('w1-1').teams[0]}").text
        assert 'class="stage called"' in running


def test_the_announcer_is_told_who_is_still_awaited() -> None:
    book = late_book()
    plan = book.state.plan
    assert plan is not None
    heat = plan.heat("w1-2")
    names = [book.state.teams[team].name for team in heat.teams]
    book.do(DIRECTOR, day.call_heat(heat.id))
    book.do(DIRECTOR, day.mark_arrived(heat.id, heat.teams[0]))
    with client_of(book) as client:
        told = re.findall("Still awaited: ([^<]+)<", client.get("/announcer").text)
    assert told == [", ".join(names[1:]).replace("&", "&amp;")]


def test_open_pages_are_told_by_the_clock_only_when_a_minute_changes_something() -> None:
    late, idle = late_book(), example_book()
    mark = Topics(Pages(Assets())).clock_mark
    now_ms = late.now_ms()
    # The heat on the floor is within its length: what waits behind it does not move yet.
    assert mark(late.state, now_ms) == mark(late.state, now_ms + MINUTE_MS)
    overrun_ms = now_ms + 40 * MINUTE_MS
    assert mark(late.state, overrun_ms) != mark(late.state, overrun_ms + MINUTE_MS)
    assert mark(late.state, overrun_ms) == mark(late.state, overrun_ms + 1)
    # Nobody works this board, so no clock makes anybody late.
    assert mark(idle.state, overrun_ms) == mark(idle.state, overrun_ms + MINUTE_MS)


def test_the_hall_sees_who_walks_on_before_the_clock_runs() -> None:
    with client_of(late_book()) as client:
        assert "Walking on" in client.get("/screen").text
        now = client.get("/").text
        assert now.index("Long haul") < now.index("Called and next")
