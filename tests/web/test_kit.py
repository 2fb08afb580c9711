"""The director's page of kit: what is short, what fits, a sheet for each lane."""

import io

import pypdf
from msgspec.structs import replace

from tests.bootstrap.test_kit_making import KIT, example
from tests.web.building import FakeBook, client_of, example_book, form_token


def test_the_page_lists_what_is_short_and_every_changeover() -> None:
    with client_of(FakeBook(example()), "director") as client:
        page = client.get("/director/kit?people=6").text
        assert "Every changeover fits into its time with 6 people" in page
        assert "before Long haul, Heat 1" in page
        assert "which the kit list does not name" in page
        sheets = client.get("/director/kit/lanes.pdf").content
    pages = [one.extract_text() for one in pypdf.PdfReader(io.BytesIO(sheets)).pages]
    assert len(pages) >= 4
    assert all("Lane" in page for page in pages)


def test_longer_changeovers_are_wished_and_lead_to_planning() -> None:
    book = FakeBook(example())
    basis = str(book.state.subjects.get("event", 0))
    with client_of(book, "director") as client:
        data = {"form_token": form_token("director"), "key": "k", "basis": basis, "people": "2"}
        answer = client.post("/director/kit", data=data, follow_redirects=False)
    assert answer.status_code == 303
    assert answer.headers["location"] == "/director/plan"
    assert "event" in book.state.subjects


def test_without_a_plan_the_page_leads_to_planning() -> None:
    book = example_book(kit=KIT)
    book.state = replace(book.state, plan=None)
    with client_of(book, "director") as client:
        assert "no published plan yet" in client.get("/director/kit").text
