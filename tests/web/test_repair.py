"""The director's page of repair, what everyone reads after it, and the sheets that changed."""

import io
import itertools
import re
from typing import Any

import pypdf
import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.bootstrap import repairing
from callroom.model import TeamHours, milliseconds
from tests.web.building import DIRECTOR, FakeBook, client_of, form_token
from tests.web.test_rota import with_rota

KEYS = itertools.count()


@pytest.fixture(autouse=True)
def no_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keep the order published: the search for another is tested where it lives."""
    monkeypatch.setattr(repairing, "ask_apart", lambda *_: True)


def post(client: Any, path: str, **fields: str) -> Any:
    data = {"form_token": form_token("director"), "key": f"r{next(KEYS)}"} | fields
    return client.post(path, data=data, follow_redirects=True)


def late_book() -> FakeBook:
    """The example event with a rota; its first heat began twenty minutes late."""
    book = with_rota()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    first = min(plan.heats, key=lambda heat: heat.start_s)
    start_ms = milliseconds(event.instant(first.start_s)) + 1_200_000
    book.set_now(start_ms)
    book.do(DIRECTOR, ask.call_heat(first.id))
    book.do(DIRECTOR, ask.start_heat(first.id, start_ms))
    book.set_now(start_ms + 60_000)
    return book


def test_a_late_day_is_repaired_as_shown_and_everyone_reads_it() -> None:
    book = late_book()
    with client_of(book, "director") as client:
        page = client.get("/director/repair").text
        assert "Go on in the order published" in page
        assert "late" in page
        (deed,) = re.findall(r'value="(accept \w+)"', page)
        assert "Say why" in post(client, "/director/repair", do=deed, why=" ").text
        page = post(client, "/director/repair", do=deed, why="the bus was late").text
        assert "Nothing has to move" in page
        assert "the bus was late" in page
        assert book.state.plan is not None
        revision = book.state.plan.revision
        crew = client.get(f"/director/repair/{revision}/crew.pdf")
        assert f"/director/seeding/{revision}/sheets.zip" in page
    pages = [one.extract_text() for one in pypdf.PdfReader(io.BytesIO(crew.content)).pages]
    assert pages
    assert book.state.rota is not None
    assert book.state.rota.plan_revision == revision
    with client_of(book) as client:
        page = client.get("/changes").text
        assert "the bus was late" in page
        assert "Name of" not in page
        assert page.count('<li><span class="line-time">') == len(
            [heat for heat in book.state.plan.heats
             if heat not in book.state.repairs[str(revision)].before.heats]
        )  # fmt: skip


def test_a_wish_that_the_delay_breaks_is_told_before_it_is_accepted() -> None:
    book = late_book()
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    leaver = plan.heats[-1].teams[0]
    ends_s = max(heat.end_s for heat in plan.heats if leaver in heat.teams)
    wishes = replace(event.wishes, team_hours=(TeamHours(team=leaver, until_s=ends_s),))
    book.state = replace(book.state, event=replace(event, wishes=wishes))
    with client_of(book, "director") as client:
        page = client.get("/director/repair").text
    assert "This breaks a wish that the plan in force keeps" in page
    assert "leaves at" in page
    assert 'value="accept' in page


def test_what_is_lost_is_noted_and_comes_back() -> None:
    book = late_book()
    event = book.state.event
    assert event is not None
    floor = event.floors[0]
    with client_of(book, "director") as client:
        lane = f"{floor.id}/{floor.lane_numbers[0]}"
        page = post(client, "/director/repair", do="lane", lane=lane, why="wet").text
        assert f"Lane {floor.lane_numbers[0]} of {floor.name}" in page
        page = post(client, "/director/repair", do="judges", judges_left="4", why="gone").text
        assert "4 judges at once" in page
        page = post(client, "/director/repair", do="kit", workout="w1", lanes_left="2",
                    why="torn").text  # fmt: skip
        assert "enough for 2 lanes" in page
        post(client, "/director/repair", do="floor", floor=event.floors[1].id, until="12:00",
             why="rain")  # fmt: skip
        page = post(client, "/director/repair", do="again 1").text
        assert f"Lane {floor.lane_numbers[0]} of {floor.name}" not in page
        assert post(client, "/director/repair", do="kit", workout="w1", why="x").status_code == 409
        assert post(client, "/director/repair", do="fly").status_code == 422
        assert post(client, "/director/repair", do="accept nothing", why="x").status_code == 409
    assert [loss.kind for loss in book.state.losses.values() if not loss.over] == [
        "judges", "kit", "floor",
    ]  # fmt: skip


def test_before_anything_has_changed_there_is_nothing_to_read_or_print() -> None:
    book = with_rota()
    with client_of(book, "director") as client:
        assert client.get("/director/repair/9/crew.pdf").status_code == 404
    with client_of(book) as client:
        assert "goes on as it was published" in client.get("/changes").text
