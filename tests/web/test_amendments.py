"""Amending a workout in the browser, and how desk, pad and public then see it."""

import io
import re
import zipfile
from typing import Any

import pytest
from pypdf import PdfReader

from callroom.actions import day
from callroom.model import SheetRef, State
from callroom.views.codes import CardRef, card_code
from tests.web.building import (
    FakeBook,
    client_of,
    example_book,
    form_token,
    played_book,
)

SAID = {
    "what": "The cap is nine minutes.",
    "why": "the hall is too hot",
    "decided_by": "head_judge",
}


def filled(page: str) -> dict[str, str]:
    """What stands in the form of a page."""
    inputs = re.findall(r'<input id="([^"]+)" name="[^"]+" value="([^"]*)"', page)
    text = re.search(r'<textarea id="text"[^>]*>([^<]*)<', page)
    return {**dict(inputs), "text": text[1] if text else ""}


def amend(book: FakeBook, workout: str, **typed: str) -> Any:
    path = f"/judge/amend/{workout}"
    with client_of(book, "head_judge") as client:
        data = {
            **filled(client.get(path).text),
            "form_token": form_token("head_judge"),
            "key": "k",
            **SAID,
            **typed,
        }
        return client.post(path, data=data, follow_redirects=False)


def amended_book() -> FakeBook:
    book = example_book()
    assert amend(book, "w1", **{"a.cap": "9:00"}).status_code == 303
    return book


def cap_of(state: State, workout: str) -> int:
    assert state.event is not None
    return state.event.workout(workout).parts[0].cap_s


def test_a_form_sent_as_it_stands_changes_nothing() -> None:
    for workout in ("w1", "w2", "w3", "w4", "w5"):
        book = example_book()
        answer = amend(book, workout)
        assert answer.status_code == 409
        assert "would stay as it is" in answer.text
        assert not book.entries


def test_the_cap_is_changed_and_everyone_reads_why() -> None:
    book = amended_book()
    assert cap_of(book.state, "w1") == 540
    team = book.state.plan.heat("w1-1").teams[0] if book.state.plan else ""
    with client_of(book) as client:
        for path in ("/rulings", f"/team/{team}"):
            assert "The cap is nine minutes." in client.get(path).text
    with client_of(book, "judge") as client:
        assert client.get("/pad/w1-1/2/now").json()["amendment"] == 1


def test_what_is_typed_wrong_stands_there_again() -> None:
    book = example_book()
    answer = amend(book, "w1", **{"a.cap": "soon"}, what="A cap \u201csoon\u201d.")
    assert answer.status_code == 422
    assert "is no time" in answer.text
    assert "A cap \u201csoon\u201d." in answer.text
    assert not book.entries


def test_a_movement_that_nobody_describes_is_refused() -> None:
    book = example_book()
    with client_of(book, "head_judge") as client:
        fields = filled(client.get("/judge/amend/w1").text)
    name = next(name for name in fields if name.endswith(".movement"))
    answer = amend(book, "w1", **{name: "levitation"})
    assert answer.status_code == 422
    assert not book.entries
    assert amend(book, "w1", **{name: "burpee"}).status_code == 303


@pytest.mark.parametrize("way", ["code", "scan"])
def test_an_old_card_is_flagged_and_counts_only_if_the_head_judge_takes_it(way: str) -> None:
    book = amended_book()
    assert book.state.event is not None
    old = card_code(book.state.event.id, CardRef(workout="w1", team="T13"))
    with client_of(book, "desk") as client:
        path = f"/desk?code={old}" if way == "code" else f"/c/{old}"
        page = client.get(path)
        assert "OLD CARD" in page.text
        data = {"form_token": form_token("desk"), "key": "k", "a.time": "6:00", "amendment": "0"}
        client.post("/desk/card/w1/T13/1", data=data)
    (kept,) = book.state.unplaced.values()
    assert kept.unplaced == "workout_amended"
    with client_of(book, "head_judge") as client:
        assert "before an amendment" in client.get("/judge").text


def test_the_new_card_opens_a_form_without_a_flag() -> None:
    book = amended_book()
    assert book.state.event is not None
    new = card_code(book.state.event.id, CardRef(workout="w1", team="T13", amendment=1))
    with client_of(book, "desk") as client:
        page = client.get(f"/desk?code={new}").text
        assert "OLD CARD" not in page
        assert "Amendment 1: the card must say so." in page
        data = {"form_token": form_token("desk"), "key": "k", "a.time": "6:00", "amendment": "1"}
        client.post("/desk/card/w1/T13/1", data=data)
    sheet = book.state.sheets[SheetRef(workout="w1", part="a", team="T13").key]
    assert sheet.counting is not None


def test_only_the_sheets_that_changed_are_printed_again() -> None:
    book = amended_book()
    with client_of(book, "head_judge") as client:
        answer = client.get("/judge/amendments/1/sheets.zip")
        missing = client.get("/judge/amendments/9/sheets.zip")
    assert missing.status_code == 404
    assert book.state.plan is not None
    heats = [heat for heat in book.state.plan.heats if heat.workout == "w1"]
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        files = {name: PdfReader(io.BytesIO(packed.read(name))) for name in packed.namelist()}
    assert len(files["cards.pdf"].pages) == sum(len(heat.lanes) for heat in heats)
    assert len(files["heat-sheets.pdf"].pages) == len(heats)
    assert "Amendment 1" in files["cards.pdf"].pages[0].extract_text()
    told = files["addendum.pdf"].pages[0].extract_text()
    assert "The cap is nine minutes." in told
    assert "from heat 1 on" in told


def test_heats_that_have_run_need_a_choice_and_the_standings_say_it() -> None:
    book = played_book(2)
    assert book.state.plan is not None
    with client_of(book, "desk") as client:
        assert client.get("/judge/amendments").status_code == 403
    running = [
        heat for heat in book.state.plan.heats if book.state.heat_run(heat.id).stage == "started"
    ]
    for heat in running:
        book.do(book.doors.holders["token-director"], day.finish_heat(heat.id))
    answer = amend(book, "w1", remedy="none", **{"a.cap": "9:00"})
    assert answer.status_code == 409
    assert "These heats have run" in answer.text
    assert amend(book, "w1", key="v", remedy="void").status_code == 303
    with client_of(book) as client:
        for path in ("/standings/open", "/rulings"):
            assert "The workout is void and counts for nothing." in client.get(path).text
    with client_of(book, "head_judge") as client:
        sheet = next(iter(book.state.sheets.values()))
        path = f"/judge/score/{sheet.workout}/{sheet.part}/{sheet.team}/1"
        assert "Workout amended" in client.get(path).text
