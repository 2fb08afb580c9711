"""The desk: from a code to a form, from a form to a report, lane after lane."""

from typing import Any

import pytest

from callroom.views.codes import CardRef, card_code, spaced
from tests.web.building import FakeBook, client_of, example_book, form_token, played_book

CARD = "/desk/card/w1/T13/1"


def code_of(book: FakeBook, team: str = "T13", workout: str = "w1") -> str:
    assert book.state.event is not None
    return spaced(card_code(book.state.event.id, CardRef(workout=workout, team=team)))


def save(client: Any, path: str = CARD, key: str = "k1", **typed: str) -> Any:
    data = {"form_token": form_token("desk"), "key": key} | typed
    return client.post(path, data=data, follow_redirects=False)


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
        other = save(client, **{"a.time": "7:33"})
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
        save(client, **{"a.time": "9:59"})
        desk = client.get("/desk").text
    assert book.state.sheets["w1/a/T13/1"].disputed
    assert "Two reports differ" in desk


def test_an_odd_score_is_pointed_out_until_it_is_confirmed() -> None:
    book = example_book()
    split_after_finish = {"a.time": "7:32", "a.split": "8:00"}
    with client_of(book, "desk") as client:
        save(client, **split_after_finish)
        page = client.get("/desk").text
        assert "Odd: look at the card again" in page
        assert f'href="{CARD}"' in page.split("Odd: look")[1]
    with client_of(book, "head_judge") as client:
        assert "Odd: look at the card again" in client.get("/judge").text


def test_a_report_that_fits_nowhere_is_kept_and_said_so() -> None:
    book = played_book(1, confirm=1)
    with client_of(book, "desk") as client:
        response = save(client, **{"a.time": "9:59"})
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
