"""The movement pages: a standard looked at, changed, added, given up, allowed and barred."""

import re
from html import unescape
from typing import Any

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, expect

from callroom.actions.movements import set_movement
from callroom.model.movement import Movement
from callroom.standards import all_movements, movement
from callroom.web.movements import form_of, read_form, typed_form
from callroom.web.movements.measures import read_measures, write_measures
from callroom.web.movements.read import free_id
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, served
from tests.web.test_browser import complaints, context_of

HERE = "/director/movements"


def fields(text: str) -> dict[str, str]:
    """What a browser would send of the movement's form, as it stands."""
    form = text.split('class="movement-form"', 1)[1].split("</form>", 1)[0]
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
    for name, inside in re.findall(
        r'<textarea[^>]*\bname="([^"]*)"[^>]*>(.*?)</textarea>', form, re.DOTALL
    ):
        found[unescape(name)] = unescape(inside)
    return found


def own(book: FakeBook) -> tuple[Movement, ...]:
    assert book.state.event is not None
    return book.state.event.movements


def save(client: Any, path: str, **changed: str) -> Any:
    data = fields(client.get(path).text) | changed | {"do": "save"}
    return client.post(path.partition("?")[0], data=data, follow_redirects=False)


@pytest.mark.parametrize("known", all_movements(), ids=lambda one: one.id)
def test_every_movement_of_the_library_goes_through_the_form_unchanged(known: Movement) -> None:
    typed = typed_form(form_of(known).values, {})
    assert read_form(typed, known).movement == known


@pytest.mark.parametrize(
    "text",
    [
        "hip crease below top of knee",
        "bar level with shoulder",
        "knee flexion at most 10",
        "trunk from vertical 5 to 30, near side",
        "elbow interior at least 170, either side",
        "bar touches shoulder",
        "heel clear of ground, far side",
        "bar over foot within 0.1 m",
    ],
)
def test_a_measure_is_written_as_it_is_typed(text: str) -> None:
    tables, odd = read_measures(f" {text.upper()} ;")
    assert odd == ""
    known = movement("deadlift")
    row = dict(form_of(known).values) | {"points.0.measures": text}
    made = read_form(typed_form(row, {}), known).movement
    assert made is not None
    assert write_measures(made.points[0].measures) == text
    assert len(tables) == 1


def test_a_measure_that_is_none_is_said() -> None:
    assert read_measures("bar touches shoulder; hip lower than knee")[1] == "hip lower than knee"
    row = dict(form_of(movement("deadlift")).values) | {"points.1.measures": "hip somewhere"}
    read = read_form(typed_form(row, {}), movement("deadlift"))
    assert read.faults["points.1.measures"].rule == "movement.measure_unreadable"


@pytest.mark.parametrize(
    ("name", "expected"), [("Log pull!", "log_pull"), ("Kübel", "kubel"), ("2 up", "own_2_up")]
)
def test_an_id_is_made_of_the_name(name: str, expected: str) -> None:
    assert free_id(name, frozenset()) == expected
    assert free_id(name, frozenset({expected})) == f"{expected}_2"


def test_saving_what_was_not_changed_asks_for_nothing() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        assert save(client, f"{HERE}/thruster").status_code == 303
    assert not book.entries


def test_one_is_changed_shown_everywhere_and_given_up_again() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        answer = save(client, f"{HERE}/thruster", **{"no_reps.0.label": "Hips too high"})
        assert answer.headers["location"] == f"{HERE}/thruster?kept=1"
        assert "Changed for this event" in client.get(f"{HERE}/thruster").text
        assert "Hips too high" in client.get("/movements/thruster").text
        assert "Hips too high" in client.get("/workouts/w1").text
        data = fields(client.get(f"{HERE}/thruster").text) | {"do": "drop"}
        client.post(f"{HERE}/thruster", data=data)
        assert "Hips too high" not in client.get("/movements/thruster").text
    assert own(book) == ()


def test_one_is_added_from_a_copy_and_chosen_in_the_builder() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        path = f"{HERE}/new?name=Log+pull&from=deadlift"
        answer = save(client, path, many="log pulls")
        assert answer.headers["location"] == f"{HERE}/log_pull?kept=1"
        assert '<option value="log_pull"' in client.get("/director/workouts/w1").text
        assert "your own" in client.get(HERE).text
    (made,) = own(book)
    assert made == replace(movement("deadlift"), id="log_pull", name="Log pull", many="log pulls")


def test_a_blank_one_says_beside_each_field_what_is_missing_and_keeps_what_was_typed() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        answer = save(
            client,
            f"{HERE}/new?name=Own",
            **{"start": "Stand <still>.", "no_reps.0.label": "x" * 30, "space.width_m": "wide"},
        )
        assert answer.status_code == 422
        assert not book.entries
        shown = answer.text
    assert fields(shown)["start"] == "Stand <still>."
    assert "<still>" not in shown
    for name in ("finish", "points.0.says", "no_reps.0.label", "judge.stands", "space.width_m"):
        assert f'id="{name}-fault"' in shown, name
    assert "Shorten it to 18." in shown
    assert re.search(r'id="finish"[^>]*autofocus', shown)
    assert shown.count(" autofocus") == 1


def test_more_empty_rows_keep_what_is_typed() -> None:
    with client_of(example_book(), "director") as client:
        path = f"{HERE}/thruster"
        before = fields(client.get(path).text)
        rows = len([name for name in before if name.endswith(".says") and "points" in name])
        data = before | {"do": "more", f"points.{rows - 1}.says": "One more."}
        after = fields(client.post(path, data=data).text)
    assert after[f"points.{rows - 1}.says"] == "One more."
    assert f"points.{rows + 1}.says" in after


def test_a_division_bars_and_allows_in_every_workout() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        path = f"{HERE}/push_up"
        hidden = fields(client.get(path).text)
        data = {"form_token": hidden["form_token"], "basis": hidden["basis"]}
        done = client.post(
            f"{path}/divisions",
            data=data | {"d:pairs:knees": "allow", "d:open:": "bar"},
            follow_redirects=False,
        )
        assert done.status_code == 303
        page = client.get(path).text
    event = book.state.event
    assert event is not None
    assert event.division("open").bars("push_up")
    assert [(one.variation, one.allowed) for one in event.division("pairs").movement_rules] == [
        ("knees", True)
    ]
    assert re.search(r'name="d:open:"[^>]*>.{1,200}value="bar" selected', page, re.DOTALL)


def test_what_a_workout_asks_for_cannot_be_barred() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        hidden = fields(client.get(f"{HERE}/thruster").text)
        data = {"form_token": hidden["form_token"], "basis": "0", "d:pairs:": "bar"}
        answer = client.post(f"{HERE}/thruster/divisions", data=data)
    assert answer.status_code == 422
    assert "may not do thruster" in answer.text
    assert not book.entries


def test_somebody_elses_change_meanwhile_is_not_overwritten() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        data = fields(client.get(f"{HERE}/thruster").text) | {"do": "save", "name": "Mine"}
        theirs = replace(movement("thruster"), name="Theirs")
        book.do(DIRECTOR, set_movement(book.state, theirs, 0))
        answer = client.post(f"{HERE}/thruster", data=data)
        assert answer.status_code == 409
        assert fields(answer.text)["name"] == "Mine"
    assert own(book) == (theirs,)


def test_a_movement_there_is_not_and_a_button_there_is_not() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        assert client.get(f"{HERE}/levitation").status_code == 404
        data = fields(client.get(f"{HERE}/thruster").text) | {"do": "fly"}
        assert client.post(f"{HERE}/thruster", data=data).status_code == 422
    assert not book.entries


@pytest.mark.browser
def test_a_movement_is_added_in_a_browser_and_barred_for_a_division(browser: Browser) -> None:
    book = example_book()
    with served(book) as url, context_of(browser, url, "director") as context:
        page = context.new_page()
        heard = complaints(page)
        page.goto(HERE)
        page.get_by_label("Name").fill("Log pull")
        page.get_by_label("Begin with").select_option("deadlift")
        page.get_by_role("button", name="Begin").click()
        expect(page.get_by_role("heading", name="Log pull", level=1)).to_be_visible()

        label = page.get_by_label("On the button of no-rep 1")
        label.fill("The log rolled out of the lane")
        page.get_by_role("button", name="Keep the movement").click()
        expect(page.get_by_text("one thing must be mended")).to_be_visible()
        expect(label).to_be_focused()
        label.fill("Log rolled")
        page.get_by_role("button", name="Keep the movement").click()
        expect(page.get_by_role("status").get_by_text("Kept.")).to_be_visible()

        page.get_by_label("Log pull, Pairs").select_option(label="barred")
        page.get_by_role("button", name="Keep for the divisions").click()
        expect(page).to_have_url(re.compile(r"kept=1#divisions$"))
        expect(page.get_by_label("Log pull, Pairs")).to_have_value("bar")
        # The browser says of the refused form that it was answered with 422.
        assert [said for said in heard if "422" not in said] == []
    (made,) = own(book)
    assert made.no_reps[0].label == "Log rolled"
    assert book.state.event is not None
    assert book.state.event.division("pairs").bars("log_pull")
