"""The floor plan on its page: laid out from sizes, changed by numbers, refused with a place."""

import re
from typing import Any

import pytest

from callroom.model.ground import Ground
from callroom.views.floor_plan_wording import typed_length
from callroom.web.forms.ground import read_length
from tests.web.building import FakeBook, client_of, example_book, form_token


def send(client: Any, **fields: str) -> Any:
    form = {"form_token": form_token("director"), "key": f"key-{len(fields)}-{fields['do']}"}
    return client.post(
        "/director/floor-plan",
        data=form | fields,
        headers={"origin": "http://localhost:8000"},
        follow_redirects=False,
    )


def lay_out(client: Any, book: FakeBook) -> Ground:
    sizes = {"hall-length": "36", "hall-width": "22,5", "hall-height": "6 m"}
    yard = {"yard-length": "40", "yard-width": "26"}
    answer = send(client, do="start", seq="0", **sizes, **yard)
    assert answer.status_code == 303
    return book.state.ground


def fields_of(page: str) -> dict[str, str]:
    """What the big form of the page would send if nothing was touched."""
    form = page[page.index("data-ground-form") :]
    found = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', form))
    for select, options in re.findall(
        r'<select id="[^"]*" name="([^"]+)">(.*?)</select>', form, re.DOTALL
    ):
        values = re.findall(r'value="([^"]*)"( selected)?', options)
        found[select] = next((value for value, is_on in values if is_on), values[0][0])
    found |= dict.fromkeys(re.findall(r'type="checkbox" name="([^"]+)" checked', form), "on")
    return {
        name: value.replace("&#39;", "'").replace("&#34;", '"') for name, value in found.items()
    }


@pytest.mark.parametrize("unit", ["kg", "lb"])
def test_what_is_laid_out_is_kept_as_it_is_shown(unit: str) -> None:
    book = example_book()
    event = book.state.event
    assert event is not None
    from msgspec.structs import replace

    book.state = replace(book.state, event=replace(event, mass_unit=unit))
    with client_of(book, "director") as client:
        ground = lay_out(client, book)
        assert ground.drawn
        shown = client.get("/director/floor-plan").text
        fields = fields_of(shown) | {"do": "keep"}
        assert send(client, **fields).status_code == 303
        first = book.state.ground
        again = client.get("/director/floor-plan").text
        assert (
            send(client, **(fields_of(again) | {"do": "keep", "key": "again"})).status_code == 303
        )
    if unit == "kg":
        assert first == ground
    # Feet are kept to the half inch; from then on nothing moves by being looked at.
    assert book.state.ground == first


def test_a_size_that_is_none_is_refused_at_its_field_and_what_was_typed_stays() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        lay_out(client, book)
        before = book.state.ground
        fields = fields_of(client.get("/director/floor-plan").text)
        typed = {"spot-0-x": "wide", "spot-0-kind": "stage"}
        answer = send(client, **(fields | {"do": "keep"} | typed))
        assert answer.status_code == 422
        assert 'href="#spot-0-x"' in answer.text
        assert 'value="wide"' in answer.text
        assert '<option value="stage" selected>' in answer.text
    assert book.state.ground == before


def test_a_thing_is_added_and_taken_out() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        ground = lay_out(client, book)
        at = len(ground.spots)
        fields = fields_of(client.get("/director/floor-plan").text) | {"do": "keep"}
        new = {
            "name": "Cake stall",
            "kind": "stall",
            "x": "1",
            "y": "2",
            "length": "3",
            "width": "2",
        }
        fields |= {f"spot-{at}-{name}": value for name, value in new.items()}
        fields["spot-0-gone"] = "on"
        assert send(client, **fields).status_code == 303
        assert "Cake stall" in client.get("/director/floor-plan").text
    assert ground.spots[0] not in book.state.ground.spots
    (stall,) = (spot for spot in book.state.ground.spots if spot.kind == "stall")
    assert (stall.x_mm, stall.length_mm) == (1_000, 3_000)


def test_two_people_cannot_move_the_same_plan() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        lay_out(client, book)
        fields = fields_of(client.get("/director/floor-plan").text) | {"do": "keep"}
        assert send(client, **fields).status_code == 303
        assert send(client, **(fields | {"key": "other"})).status_code == 409


def test_each_workout_is_drawn_with_kit_and_judges_and_printed() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        lay_out(client, book)
        page = client.get("/director/floor-plan?show=w2").text
        assert page.count('class="fp-judge"') > 2
        assert "In each lane" in page
        for size in ("a4", "letter"):
            pdf = client.get(f"/director/floor-plan.pdf?size={size}")
            assert pdf.content.startswith(b"%PDF")


def test_only_the_director_sees_it() -> None:
    with client_of(example_book(), "crew") as client:
        assert client.get("/director/floor-plan").status_code == 403
        assert client.get("/director/floor-plan.pdf").status_code == 403


@pytest.mark.parametrize(
    ("text", "unit", "mm"),
    [
        ("12.5", "kg", 12_500),
        ("12,5 m", "kg", 12_500),
        ("41' 6\"", "lb", 12_649),
        ("41 6", "lb", 12_649),
        ("41.5", "lb", 12_649),
        ("41\u2032 6½\u2033", "lb", 12_662),
        ("10'", "lb", 3_048),
        ("12.5 m", "lb", 12_500),
        ("", "kg", None),
        ("41' 13\"", "lb", None),
        ("-3", "kg", None),
        ("1e3", "kg", None),
    ],
)
def test_sizes_are_read_as_people_type_them(text: str, unit: Any, mm: int | None) -> None:
    assert read_length(text, unit) == mm


@pytest.mark.parametrize("unit", ["kg", "lb"])
def test_a_size_read_twice_is_the_same(unit: Any) -> None:
    for mm in range(0, 30_000, 37):
        once = read_length(typed_length(mm, unit), unit)
        assert once is not None
        assert abs(once - mm) <= (0 if unit == "kg" else 7)
        assert read_length(typed_length(once, unit), unit) == once
