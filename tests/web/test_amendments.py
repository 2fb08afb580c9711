"""Amending a workout in the browser, and how desk, pad and public then see it."""

import io
import re
import zipfile
from typing import Any

import pytest
from pypdf import PdfReader

from callroom.actions import day
from callroom.bootstrap.forecasting import forecast_of
from callroom.model import Fact, KitItem, SheetRef, State
from callroom.planner.plates import kit_findings
from callroom.standards import library_with
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


def task_names(state: State, workout: str) -> list[str]:
    assert state.event is not None
    blocks = state.event.workout(workout).parts[0].blocks
    return [task.movement for block in blocks for task in block.tasks]


ADDED = {
    "a.chipper.new1.movement": "kettlebell_swing",
    "a.chipper.new1.amounts": "30",
    "a.chipper.new1.before": "thruster",
    "a.chipper.new1.load.women": "16 kg / 35 lb",
    "a.chipper.new1.load.men": "24 kg",
}


def block_of(book: FakeBook, workout: str) -> str:
    assert book.state.event is not None
    return book.state.event.workout(workout).parts[0].blocks[0].id


def added(book: FakeBook, **more: str) -> Any:
    block = block_of(book, "w1")
    named = {name.replace("chipper", block): text for name, text in ADDED.items()}
    return amend(book, "w1", **(named | more))


def test_tasks_are_added_and_taken_out_in_one_amendment() -> None:
    book = example_book()
    before = task_names(book.state, "w1")
    event = book.state.event
    assert event is not None
    first, second = event.workout("w1").parts[0].blocks[0].tasks[:2]
    block = block_of(book, "w1")
    answer = added(book, **{f"a.{first.id}.remove": "yes", f"a.{block}.new1.before": second.id})
    assert answer.status_code == 303, answer.text
    assert task_names(book.state, "w1") == ["kettlebell_swing", *before[1:]]
    now = book.state.event
    assert now is not None
    made = now.workout("w1").parts[0].blocks[0].tasks[0]
    assert (made.id, made.amounts) == ("kettlebell_swing", (30,))
    assert [(load.category, str(load.kg), load.lb) for load in made.loads] == [
        ("women", "16", made.loads[0].lb),
        ("men", "24", None),
    ]


def test_a_new_row_that_cannot_be_read_is_said_and_stays() -> None:
    book = example_book()
    block = block_of(book, "w1")
    answer = added(book, **{f"a.{block}.new1.amounts": "many"})
    assert answer.status_code == 422
    assert re.search(rf'id="a\.{block}\.new1\.amounts"[^>]*aria-invalid="true"', answer.text)
    assert 'value="16 kg / 35 lb"' in answer.text
    assert not book.entries


def test_a_workout_of_which_nothing_is_left_is_refused() -> None:
    book = example_book()
    assert book.state.event is not None
    part = book.state.event.workout("w1").parts[0]
    gone = {f"a.{task.id}.remove": "yes" for block in part.blocks for task in block.tasks}
    assert amend(book, "w1", **gone).status_code == 422
    assert not book.entries


def test_forecast_and_kit_follow_an_amendment() -> None:
    book = example_book()
    kit = (KitItem(id="bells", name="Dumbbell", kind="dumbbell", count=1),)

    def looked_at() -> tuple[int, set[Fact]]:
        event, plan = book.state.event, book.state.plan
        assert event is not None
        assert plan is not None
        library = library_with(event.movements).movements
        short = kit_findings(event, book.state.teams.values(), plan, kit, library)
        part = forecast_of(book.state, teams=20).workout("w1").parts[0].divisions[0].forecast
        steps = part.steps
        return len(steps), {one.facts["item"] for one in short if one.rule == "kit.short"}

    steps, short = looked_at()
    assert "dumbbell" not in short
    block = block_of(book, "w1")
    assert added(book, **{f"a.{block}.new1.movement": "dumbbell_snatch"}).status_code == 303
    more, now_short = looked_at()
    assert more == steps + 1
    assert "dumbbell" in now_short
