"""The desk: from a code to a form, from a form to a report, lane after lane."""

import re
from typing import Any

import msgspec
import pytest

from callroom.scoring.unlikely import Expected
from callroom.views.codes import CardRef, card_code, spaced
from tests.web.building import FakeBook, client_of, example_book, form_token, played_book

CARD = "/desk/card/w1/T13/1"


def code_of(book: FakeBook, team: str = "T13", workout: str = "w1") -> str:
    assert book.state.event is not None
    return spaced(card_code(book.state.event.id, CardRef(workout=workout, team=team)))


def save(client: Any, path: str = CARD, key: str = "k1", **typed: str) -> Any:
    data = {"form_token": form_token("desk"), "key": key} | typed
    return client.post(path, data=data, follow_redirects=False)


def keep(client: Any, path: str = CARD, key: str = "k1", **typed: str) -> Any:
    """Save, and say yes to what is asked."""
    asked = save(client, path, key, **typed)
    assert asked.status_code == 200
    mark = asked.text.split('name="asked" value="')[1].split('"', maxsplit=1)[0]
    return save(client, path, key, asked=mark, **typed)


def test_a_typed_code_leads_to_its_form() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        response = client.get("/desk", params={"code": code_of(book).lower().replace("-", " ")})
    assert str(response.url).endswith(CARD)
    assert "Two Left Feet" in response.text


def test_a_mistyped_code_is_said_and_kept_in_the_field() -> None:
    with client_of(example_book(), "desk") as client:
        text = client.get("/desk", params={"code": "2345-678Z"}).text
    assert 'role="alert"' in text
    assert 'value="2345-678Z"' in text


@pytest.mark.parametrize(
    ("role", "where"), [("desk", CARD), ("director", CARD), ("judge", "/pad/w1-1/1")]
)
def test_a_scanned_card_opens_the_form_or_the_lane_by_role(role: Any, where: str) -> None:
    book = example_book()
    with client_of(book, role) as client:
        response = client.get(f"/c/{code_of(book)}", follow_redirects=False)
    assert (response.status_code, response.headers["location"]) == (303, where)


def test_a_saved_score_is_paper_and_leads_to_the_next_lane() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        response = save(client, **{"a.time": "732", "signed": "yes"})
        sheet = book.state.sheets["w1/a/T13/1"]
        after = client.get(response.headers["location"])
    assert response.headers["location"].startswith("/desk/card/w1/T14/1?saved=")
    assert (sheet.reports[0].report.source, sheet.reports[0].report.signed) == ("paper", True)
    assert "Saved: lane 1, Two Left Feet: 7:32" in after.text


def test_after_the_last_lane_the_desk_is_back_at_the_heat() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        where = ""
        for index, team in enumerate(("T13", "T14", "T15", "T16")):
            path = f"/desk/card/w1/{team}/1"
            where = save(client, path, f"k{index}", **{"a.time": "800"}).headers["location"]
        assert where.startswith("/desk/heat/w1-1?saved=")
        assert "Every lane of this heat has a score" in client.get(where).text


def test_sending_the_same_form_twice_stores_it_once() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        first, again = (save(client, **{"a.time": "7:32"}) for _ in range(2))
        other = keep(client, **{"a.time": "7:33"})
    assert first.headers["location"] == again.headers["location"]
    assert len(book.state.sheets["w1/a/T13/1"].reports) == 1
    assert other.status_code == 409


def test_a_fault_is_told_beside_its_field_and_what_was_typed_stays() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        response = save(client, **{"a.time": "7:99", "a.split": "4:10"})
    assert response.status_code == 422
    assert 'value="7:99"' in response.text
    assert 'value="4:10"' in response.text
    assert 'aria-invalid="true"' in response.text
    assert 'id="a.time-fault"' in response.text
    assert not book.entries


def test_a_second_report_that_differs_is_for_the_head_judge() -> None:
    book = played_book(1, confirm=0)
    with client_of(book, "desk") as client:
        keep(client, **{"a.time": "9:59"})
        desk = client.get("/desk").text
    assert book.state.sheets["w1/a/T13/1"].disputed
    assert "Two reports differ" in desk


def test_an_odd_score_is_pointed_out_until_it_is_confirmed() -> None:
    book = example_book()
    split_after_finish = {"a.time": "7:32", "a.split": "8:00"}
    with client_of(book, "desk") as client:
        keep(client, **split_after_finish)
        page = client.get("/desk").text
        assert "Odd: look at the card again" in page
        assert f'href="{CARD}"' in page.split("Odd: look")[1]
    with client_of(book, "head_judge") as client:
        assert "Odd: look at the card again" in client.get("/judge").text


def test_a_report_that_fits_nowhere_is_kept_and_said_so() -> None:
    book = played_book(1, confirm=1)
    with client_of(book, "desk") as client:
        response = keep(client, **{"a.time": "9:59"})
        after = client.get(response.headers["location"])
    assert len(book.state.unplaced) == 1
    assert "counts for nothing yet" in after.text


def test_two_parts_are_stored_together() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        save(client, "/desk/card/w4/T01/1", **{"a.time": "5:10", "b.metres": "1021"})
    assert len({entry.key for entry, _ in book.entries}) == 1
    assert {"w4/a/T01/1", "w4/b/T01/1"} <= set(book.state.sheets)


@pytest.mark.parametrize("path", ["/desk/card/none/T01/1", "/desk/card/w1/none/1",
                                  "/desk/card/w1/T01/2", "/desk/heat/none"])  # fmt: skip
def test_what_is_not_there_is_not_found(path: str) -> None:
    with client_of(example_book(), "desk") as client:
        assert client.get(path).status_code == 404


@pytest.mark.parametrize(
    ("typed", "question"),
    [
        ({"a.time": "12:01"}, "past the cap"),
        ({"a.work": "999"}, "more than the"),
        ({"a.time": "7:32", "a.split": "8:00"}, "split"),
        ({"a.time": "0:12"}, "far faster than any team was forecast to be, 6:00"),
        ({"a.work": "1"}, "far less than any team was forecast to do, 40"),
    ],
)
def test_what_is_odd_is_asked_about_and_kept_after_a_yes(
    typed: dict[str, str], question: str
) -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        client.house.expecting = Foretold()
        asked = save(client, **typed)
        assert (asked.status_code, book.entries) == (200, [])
        assert question in asked.text
        name, value = next(iter(typed.items()))
        assert f'name="{name}" value="{value}"' in asked.text
        assert keep(client, **typed).status_code == 303
    assert book.state.sheets["w1/a/T13/1"].counting is not None


def test_a_yes_to_one_result_is_no_yes_to_another() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        mark = save(client, **{"a.time": "12:01"}).text.split('name="asked" value="')[1][:16]
        again = save(client, asked=mark, **{"a.time": "12:02"})
    assert (again.status_code, book.entries) == (200, [])


def test_a_card_that_differs_from_the_pad_is_asked_about_and_one_that_agrees_is_not() -> None:
    book = played_book(1, confirm=0)
    told = book.state.sheets["w1/a/T13/1"].reports[0].report.result
    assert told.time_ms is not None
    minutes, seconds = divmod(told.time_ms // 1000, 60)
    with client_of(book, "desk") as client:
        differs = save(client, **{"a.time": "9:59"})
        assert "not what was reported before" in differs.text
        agrees = save(client, key="k2", **{"a.time": f"{minutes}:{seconds:02}"})
        assert agrees.status_code == 303
    assert not book.state.sheets["w1/a/T13/1"].disputed


class Foretold:
    """A forecast that is there at once."""

    def of(self, _event: Any) -> Any:
        return {("w1", "a", "pairs"): Expected(fastest_s=360, least=40, most=500)}


def test_a_card_is_found_by_heat_and_lane() -> None:
    with client_of(example_book(), "desk") as client:
        found = client.get("/desk/heat/w1-1", params={"lane": "3"}, follow_redirects=False)
        assert found.headers["location"] == "/desk/card/w1/T15/1"
        assert "There is no lane 9" in client.get("/desk/heat/w1-1", params={"lane": "9"}).text


def test_the_desk_lists_every_missing_card_of_heats_that_began() -> None:
    book = played_book(2, confirm=0)
    for sheet in ("w1/a/T13/1", "w1/a/T16/1"):
        kept = {key: one for key, one in book.state.sheets.items() if key != sheet}
        book.state = msgspec.structs.replace(book.state, sheets=kept)
    with client_of(book, "desk") as client:
        text = client.get("/desk").text
    missing = text.split("Scores missing")[1].split("</table>")[0]
    assert missing.index("/desk/card/w1/T13/1") < missing.index("/desk/card/w1/T16/1")
    assert "/desk/card/w1/T14/1" not in missing


def test_42_cards_are_typed_with_the_keyboard_alone_in_one_page_and_few_keys_each() -> None:
    """At a key every half second this is less than half of the six minutes; the rest is for reading."""
    book = played_book(10, confirm=0)
    book.state = msgspec.structs.replace(book.state, sheets={})
    typed = {
        "w1": {"a.time": "732"},
        "w2": {"a.rounds": "4", "a.counts": "17"},
        "w3": {"a.lift.lift_women.1": "60", "a.lift.lift_men.1": "80"},
        "w4": {"a.time": "512", "b.metres": "980"},
        "w5": {"a.time": "1104"},
    }
    cards = keys = pages = 0
    with client_of(book, "desk") as client:
        where = "/desk/card/w1/T13/1"
        while cards < 42 and where.startswith("/desk/card/"):
            path = where.partition("?")[0]
            text = client.get(where).text
            assert text.count("autofocus") == 1
            fields = typed[path.split("/")[3]]
            first = next(iter(fields))
            # The cursor stands in the field that is typed; Enter saves and opens the next card.
            assert re.search(rf'<input id="{re.escape(first)}"[^>]*\sautofocus', text), first
            answer = save(client, path, f"k{cards}", **fields)
            assert answer.status_code == 303, (path, answer.text[:200])
            # What is typed, a Tab or two from field to field, and Enter.
            keys += sum(len(text) + 2 for text in fields.values())
            cards, pages = cards + 1, pages + 1
            where = answer.headers["location"]
    assert (cards, pages) == (42, 42)
    assert keys * 0.5 < 6 * 60 / 2
