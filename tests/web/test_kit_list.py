"""The kit list on its page: added, changed, refused, taken out, and by lender on paper."""

import html
import itertools
from datetime import date
from typing import Any

from callroom.actions.kit_list import set_kit_item
from callroom.model import KitItem
from tests.web.building import client_of, example_book, form_token

COUNTER = itertools.count()
ROWER = {
    "do": "keep",
    "name": "Rower <3",
    "kind": "machine",
    "count": "4",
    "lender": "Harbour Gym",
    "due back": "2027-04-26",
}


def send(client: Any, fields: dict[str, str]) -> Any:
    form = {"form_token": form_token("director"), "key": f"kit-{next(COUNTER)}"}
    return client.post("/director/kit/list", data=form | fields, follow_redirects=False)


def test_an_item_is_added_changed_and_taken_out() -> None:
    book = example_book()
    before = book.state.kit
    with client_of(book, "director") as client:
        assert send(client, ROWER).status_code == 303
        rower = book.state.kit[-1]
        assert (rower.kind, rower.count, rower.lender) == ("machine", 4, "Harbour Gym")
        assert rower.due_back == date(2027, 4, 26)
        page = client.get(f"/director/kit/list?change={rower.id}").text
        assert "Borrowed from Harbour Gym" in page
        assert "<3" not in page
        assert 'value="2027-04-26"' in page
        assert "/director/kit/list.pdf" in page
        assert client.get("/director/kit/list.pdf").content.startswith(b"%PDF")
        assert send(client, ROWER | {"id": rower.id, "count": "6"}).status_code == 303
        assert [one.count for one in book.state.kit if one.id == rower.id] == [6]
        # The same again without its id is another line, so that nothing is lost.
        assert send(client, ROWER).status_code == 303
        assert len({one.id for one in book.state.kit}) == len(before) + 2
        for one in book.state.kit[len(before) :]:
            assert send(client, {"do": "drop", "id": one.id}).status_code == 303
        assert book.state.kit == before
        assert send(client, {"do": "drop", "id": "rower"}).status_code == 404


def test_what_cannot_be_read_is_said_and_what_was_typed_is_kept() -> None:
    book = example_book()
    before = book.state.kit
    with client_of(book, "director") as client:
        answer = send(client, ROWER | {"count": "many", "mass": "heavy"})
        assert answer.status_code == 422
        page = html.unescape(answer.text)
        assert '"many"' in page or "“many”" in page
        assert 'value="heavy"' in page
        assert "row 2" not in page
    assert book.state.kit == before


def test_a_change_rests_on_the_list_as_it_was_seen() -> None:
    book = example_book()
    asked = set_kit_item(book.state, KitItem(id="cone", name="Cone", kind="other", count=9))
    assert asked.basis == {"kit": book.state.subjects.get("kit", 0)}


def test_only_the_director_sees_it() -> None:
    with client_of(example_book(), "desk") as client:
        assert client.get("/director/kit/list").status_code == 403
