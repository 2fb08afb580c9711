"""The workout builder over its pages: begin, change, keep, save, and what stands in the way."""

import re
from html import unescape
from io import BytesIO
from typing import Any

import msgspec
import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, Locator, Page, expect
from pypdf import PdfReader

from callroom.actions.request import propose
from callroom.journal.entries import bodies
from callroom.model import KitItem, MovementRule
from callroom.web.builder import nodes, written
from callroom.web.builder.draft import field_name
from tests.views.building import example_event
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token, served
from tests.web.test_browser import complaints, context_of


def fields(text: str) -> dict[str, str]:
    """What a browser would send of the builder's form: its fields as they stand."""
    form = text.split("data-builder ", 1)[1].split("</form>", 1)[0]
    found: dict[str, str] = {}
    for tag in re.findall(r"<input[^>]*>", form):
        name, value = re.search(r'\bname="([^"]*)"', tag), re.search(r'\bvalue="([^"]*)"', tag)
        ticked = 'type="checkbox"' not in tag or " checked" in tag
        if name and ticked:
            found[unescape(name[1])] = unescape(value[1]) if value else ""
    for name, inside in re.findall(
        r'<select[^>]*\bname="([^"]*)"[^>]*>(.*?)</select>', form, re.DOTALL
    ):
        chosen = re.search(r'<option value="([^"]*)" selected', inside)
        first = re.search(r'<option value="([^"]*)"', inside)
        taken = chosen or first
        found[unescape(name)] = unescape(taken[1]) if taken else ""
    for name, inside in re.findall(r'<textarea[^>]*\bname="([^"]*)"[^>]*>(.*?)</textarea>', form):
        found[unescape(name)] = unescape(inside)
    return found


def press(client: Any, path: str, deed: str, **changed: str) -> Any:
    """Press a button of the builder with some fields changed; returns the answer."""
    data = fields(client.get(path).text) | changed | {"do": deed}
    return client.post(path, data=data, follow_redirects=False)


def test_saving_what_was_not_changed_asks_for_the_event_as_it_is() -> None:
    event = example_event()
    for workout in event.workouts:
        book = example_book()
        with client_of(book, "director") as client:
            answer = press(client, f"/director/workouts/{workout.id}", "save")
        assert answer.status_code == 303, answer.text
        assert book.state.event == event


def test_a_workout_begun_from_another_is_saved_as_one_more() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        begun = client.post(
            "/director/workouts",
            data={"form_token": form_token("director"), "name": "Encore", "from": "w1"},
            follow_redirects=False,
        )
        path = begun.headers["location"]
        assert path == "/director/workouts/w6"
        assert "begun, not saved yet" in client.get("/director/workouts").text
        saved = press(client, path, "save", **{"0/cap_s": "900"})
    assert saved.status_code == 303
    event = book.state.event
    assert event is not None
    assert [one.id for one in event.workouts] == ["w1", "w2", "w3", "w4", "w5", "w6"]
    made, source = event.workout("w6"), event.workout("w1")
    assert (made.name, made.parts[0].cap_s) == ("Encore", 9 * 60)
    assert made.parts[0].blocks == source.parts[0].blocks
    assert book.kept == {}


def test_what_is_typed_is_kept_and_comes_back() -> None:
    book = example_book()
    path = "/director/workouts/w1"
    with client_of(book, "director") as client:
        data = fields(client.get(path).text) | {"0/cap_s": "soon", "/name": "Long & <hard>"}
        answer = client.post(f"{path}/draft", data=data)
        assert answer.status_code == 200
        assert 'data-field="0/cap_s"' in answer.text
        again = client.get(path).text
    assert fields(again)["0/cap_s"] == "soon"
    assert fields(again)["/name"] == "Long & <hard>"
    assert "<hard>" not in again
    assert book.state.event == example_event()
    assert not book.entries


def test_the_preview_says_running_totals_standards_and_forecast() -> None:
    with client_of(example_book(), "director") as client:
        path = "/director/workouts/w1"
        data = fields(client.get(path).text) | {"0.0.0/amounts": "70"}
        text = client.post(f"{path}/draft", data=data).text
    assert "70 cal" in text
    assert "in 100 finish by" in text
    assert "What a judge must see" in text
    assert '<svg class="hill"' in text


def test_a_faulty_draft_is_not_saved_and_says_where() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        answer = press(client, "/director/workouts/w1", "save", **{"0/cap_s": "0"})
    assert answer.status_code == 422
    assert "one thing must be mended" in answer.text
    assert re.search(r'id="0/cap_s"[^>]*aria-invalid="true"', answer.text)
    assert not book.entries
    assert book.kept


def test_a_draft_begun_before_the_event_changed_is_refused_until_it_is_looked_at() -> None:
    book = example_book()
    path = "/director/workouts/w1"
    with client_of(book, "director") as client:
        data = fields(client.get(path).text) | {"0/cap_s": "11:00"}
        event = book.state.event
        assert event is not None
        moved = msgspec.structs.replace(event, venue="The other hall")
        book.do(DIRECTOR, propose(bodies.EventSet(event=moved)))
        refused = client.post(path, data=data | {"do": "save"})
        assert refused.status_code == 409
        assert "was changed since" in refused.text
        assert fields(refused.text)["0/cap_s"] == "11:00"
        client.post(path, data=fields(refused.text) | {"do": "renew"})
        saved = press(client, path, "save")
    assert saved.status_code == 303
    assert book.state.event is not None
    assert book.state.event.venue == "The other hall"
    assert book.state.event.workout("w1").parts[0].cap_s == 660


def test_buttons_add_move_and_remove_and_go_on_where_they_were_pressed() -> None:
    book = example_book()
    path = "/director/workouts/w1"
    with client_of(book, "director") as client:
        added = press(client, path, "add 0.0")
        assert added.headers["location"] == f"{path}?at=0.0.5"
        text = client.get(f"{path}?at=0.0.5").text
        assert re.search(r'<select id="0.0.5/movement"[^>]* autofocus', text)
        press(client, path, "up 0.0.5", **{"0.0.5/movement": "sit_up", "0.0.5/amounts": "30"})
        assert fields(client.get(path).text)["0.0.4/movement"] == "sit_up"
        press(client, path, "remove 0.0.5")
        assert "0.0.5/movement" not in fields(client.get(path).text)
        thrown = press(client, path, "discard")
    assert thrown.headers["location"] == "/director/workouts"
    assert book.kept == {}


def test_a_workout_there_is_not_and_a_button_there_is_not() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        assert client.get("/director/workouts/w9").status_code == 404
        assert press(client, "/director/workouts/w1", "fly 0").status_code == 422
        bare = {"form_token": form_token("director"), "do": "save"}
        assert client.post("/director/workouts/w1", data=bare).status_code == 400
    assert not book.entries


def look_at_the_sheets(page: Page, preview: Locator) -> None:
    """Open the sheets of the pairs, see the card drawn, and fetch both to print."""
    preview.locator(".preview-sheets summary", has_text="Pairs").click()
    card = preview.get_by_role("img", name="The judge’s card of Pairs")
    expect(card).to_have_js_property("complete", value=True)
    expect(card).not_to_have_js_property("naturalWidth", value=0)
    for name in ("Card (PDF) Pairs", "Standards sheet (PDF) Pairs"):
        address = preview.get_by_role("link", name=name).get_attribute("href")
        assert address is not None
        assert page.request.get(address).body().startswith(b"%PDF-")


@pytest.mark.browser
def test_a_sixth_workout_is_built_in_the_browser_with_its_forecast_as_it_is_typed(
    browser: Browser,
) -> None:
    book = FakeBook(example_book().state)
    with served(book) as url, context_of(browser, url, "director") as context:
        page = context.new_page()
        heard = complaints(page)
        page.goto("/director/workouts")
        page.get_by_label("Name").fill("Last orders")
        page.get_by_role("button", name="Begin").click()
        preview = page.get_by_role("region", name="What it would be")
        expect(preview).to_contain_text("Mend what is marked")

        page.get_by_label("Movement", exact=True).select_option(label="Thruster")
        page.get_by_label("How much").fill("21-15-9")
        rounds = page.get_by_label("Rounds")
        expect(preview).to_contain_text("45 counts in all")
        rounds.fill("2")
        expect(page.locator('[id="0.0.0/amounts-fault"]')).to_contain_text("3")
        rounds.fill("3")
        expect(page.locator('[id="0.0.0/amounts-fault"]')).to_be_hidden()
        expect(preview).to_contain_text("in 100 finish by 10:00")
        expect(preview).to_contain_text("45 counts in all")

        page.get_by_text("Loads and heights").first.click()
        page.get_by_label("Loads: all divisions, everyone").fill("30 kg / 65 lb")
        expect(preview).to_contain_text("30 kg / 65 lb")

        page.get_by_role("button", name="Add a task").press("Enter")
        movement = page.locator('[id="0.0.1/movement"]')
        expect(movement).to_be_focused()
        movement.select_option(label="Pull-up")
        page.locator('[id="0.0.1/amounts"]').fill("21-15-9")
        expect(preview).to_contain_text("90 counts in all")
        expect(preview.locator("summary", has_text="Pull-up")).to_be_visible()

        page.get_by_label("Time cap").fill("0:00")
        expect(page.locator('[id="0/cap_s-fault"]')).to_be_visible()
        page.get_by_label("Time cap").fill("8:00")
        expect(preview).to_contain_text("in 100 finish by 8:00")

        page.locator('[id="at-0.0.1"] summary', has_text="Variations").click()
        page.get_by_label("Band under the feet: Pairs").select_option(label="allowed")
        banded = "Pull-up, Band under the feet · Pairs"
        expect(preview.locator("summary", has_text=banded)).to_be_visible()
        look_at_the_sheets(page, preview)

        page.get_by_role("button", name="Save the workout").press("Enter")
        expect(page.get_by_role("link", name="Last orders")).to_be_visible()
        assert heard == []
    event = book.state.event
    assert event is not None
    part = event.workout("w6").parts[0]
    assert [task.movement for task in part.blocks[0].tasks] == ["thruster", "pull_up"]
    assert (part.cap_s, part.blocks[0].rounds) == (480, 3)
    assert book.kept == {}


def test_a_variation_is_allowed_for_one_division_and_asked_of_all() -> None:
    book = example_book()
    path = "/director/workouts/w1"
    with client_of(book, "director") as client:
        text = press(
            client, path, "look", **{"0.0.1/movement": "push_up", "0.0.1/load::": ""}
        ).headers["location"]
        assert 'name="0.0.1/way:pairs:knees"' in client.get(text).text
        ways = {"0.0.1/way:pairs:knees": "allow", "0.0.1/way::raised": "ask"}
        left_over = {"0.0.1/way::sumo": "allow"}
        tight = {"0.0.1/tighten": "Chest to the mat.", "0.0.1/tighten_no_rep": "Chest high"}
        saved = press(client, path, "save", **ways, **left_over, **tight)
        assert saved.status_code == 303, saved.text
        again = fields(client.get(path).text)
    event = book.state.event
    assert event is not None
    task = event.workout("w1").parts[0].blocks[0].tasks[1]
    assert task.variation == "raised"
    assert [(one.variation, one.division, one.allowed) for one in task.variation_rules] == [
        ("knees", "pairs", True)
    ]
    assert task.tighten_no_rep == "Chest high"
    assert again["0.0.1/way::raised"] == "ask"


def test_other_variations_are_offered_as_soon_as_another_movement_is_chosen() -> None:
    with client_of(example_book(), "director") as client:
        path = "/director/workouts/w1"
        data = fields(client.get(path).text) | {"0.0.1/movement": "pull_up"}
        text = client.post(f"{path}/draft", data=data).text
    offer = text.split('<template data-ways="0.0.1" data-movement="pull_up">')[1]
    assert 'name="0.0.1/way:pairs:band"' in offer.split("</template>")[0]


def faults_in(text: str) -> dict[str, str]:
    """The faults of a draft's preview by the name of their field."""
    found = re.findall(r'data-field="([^"]*)"[^>]*><a[^>]*>(.*?)</a>', text)
    return {unescape(field): unescape(said) for field, said in found}


BARRED = MovementRule(movement="thruster")
STANCE = MovementRule(movement="push_up", variation="knees")


@pytest.mark.parametrize(
    ("changed", "rules", "field", "said"),
    [
        ({"0/cap_s": "0:00"}, (), "0/cap_s", "cap"),
        ({"0/tiebreak": "nowhere"}, (), "0/tiebreak", "nowhere"),
        ({"0.0.1/movement": "thruster"}, (BARRED,), "0.0.1/movement", "may not do thruster"),
        (
            {"0.0.1/movement": "push_up", "0.0.1/way::knees": "ask"},
            (STANCE,),
            "0.0.1/variation",
            "knees is barred",
        ),
        (
            {"0.0.1/movement": "push_up", "0.0.1/way:pairs:knees": "allow"},
            (STANCE,),
            "0.0.1/variation_rules",
            "knees is barred",
        ),
        (
            {"0.0.1/movement": "kettlebell_swing", "0.0.1/working": "2"},
            (),
            "0.0.1/movement",
            "needs 2 of kettlebell",
        ),
    ],
)
def test_what_cannot_be_is_refused_with_the_place_and_the_mend(
    changed: dict[str, str], rules: tuple[MovementRule, ...], field: str, said: str
) -> None:
    state = example_book().state
    assert state.event is not None
    divisions = tuple(
        replace(division, movement_rules=rules) if division.id == "pairs" else division
        for division in state.event.divisions
    )
    workout = state.event.workouts[0]
    event = replace(state.event, divisions=divisions)
    kit = (KitItem(id="bell", name="Kettlebell", kind="kettlebell", count=1),)
    book = FakeBook(replace(state, event=event, kit=kit))
    path = f"/director/workouts/{workout.id}"
    with client_of(book, "director") as client:
        typed = {
            field_name(at, name): text
            for at, node in nodes(written(event, workout))
            for name, text in node.texts.items()
        }
        data = typed | {"form_token": form_token("director"), "basis": "0"} | changed
        found = faults_in(client.post(f"{path}/draft", data=data).text)
        refused = client.post(path, data=data | {"do": "save"})
    assert said in found[field]
    assert refused.status_code == 422
    assert not book.entries


@pytest.mark.parametrize("sheet", ["card", "standards"])
def test_the_sheets_of_a_draft_are_drawn_as_they_would_be_printed(sheet: str) -> None:
    book = example_book()
    path = "/director/workouts/w1"
    with client_of(book, "director") as client:
        data = fields(client.get(path).text) | {"0.0.0/amounts": "77"}
        text = client.post(f"{path}/draft", data=data).text
        picture = re.search(rf'src="({path}/sheets/{sheet}\.svg\?division=pairs[^"]*)"', text)
        assert picture is not None
        drawn = client.get(unescape(picture[1]))
        printed = client.get(unescape(picture[1]).replace(".svg", ".pdf"))
    assert drawn.headers["content-type"].startswith("image/svg+xml")
    assert drawn.text.startswith("<svg")
    assert printed.headers["content-type"] == "application/pdf"
    said = " ".join(page.extract_text() for page in PdfReader(BytesIO(printed.content)).pages)
    assert "77 cal" in said
    assert ("SAMPLE" in said) == (sheet == "card")
    assert not book.entries


def test_a_draft_that_is_not_sound_is_not_drawn_and_no_sheet_is_made_up() -> None:
    with client_of(example_book(), "director") as client:
        path = "/director/workouts/w1"
        sheets = f"{path}/sheets"
        assert client.get(f"{sheets}/card.pdf?division=nobody").status_code == 404
        assert client.get(f"{sheets}/poster.pdf?division=pairs").status_code == 404
        client.post(f"{path}/draft", data=fields(client.get(path).text) | {"0/cap_s": "0"})
        assert client.get(f"{sheets}/card.pdf?division=pairs").status_code == 422
    with client_of(example_book(), "desk") as client:
        assert client.get(f"{sheets}/card.pdf?division=pairs").status_code == 403
