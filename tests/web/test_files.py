"""Files to take away, from a real book on disk."""

import asyncio
import io
import zipfile
from collections.abc import Iterator
from typing import Any

import pytest

from callroom.bootstrap.books import open_book
from callroom.bootstrap.demonstration import make_demo_book
from callroom.bootstrap.open_book import OpenBook
from tests.paper.reading import pages_of, size_mm
from tests.web.building import client_of

pytestmark = pytest.mark.store
PASSPHRASE = "seven green bottles"


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[OpenBook]:
    path = tmp_path_factory.mktemp("files") / "demo.book"
    make_demo_book(path)
    opened = open_book(path)
    asyncio.run(opened.doors.set_passphrase(PASSPHRASE))
    yield opened
    opened.close()


def sign_in(client: Any) -> str:
    text = client.get("/sign-in").text
    token: str = text.split('name="form_token" value="')[1].split('"')[0]
    client.post("/sign-in", data={"form_token": token, "passphrase": PASSPHRASE})
    page: str = client.get("/director/files").text
    return page.split('name="form_token" value="')[1].split('"', maxsplit=1)[0]


def names_in(response: Any) -> set[str]:
    assert response.status_code == 200
    assert response.headers["content-type"] == "application/zip"
    assert response.headers["cache-control"] == "no-store"
    with zipfile.ZipFile(io.BytesIO(response.content)) as archive:
        assert archive.testzip() is None
        return set(archive.namelist())


def test_results_calendars_and_the_book_come_as_one_file(book: OpenBook) -> None:
    with client_of(book) as client:
        sign_in(client)
        names = names_in(client.get("/director/files/results.zip?share=yes"))
        whole = names_in(client.get("/director/files/results.zip"))
    assert {"results.csv", "results.xlsx", "results.json", "book.json"} <= names
    assert any(name.endswith(".ics") for name in names)
    # The event's file tells of workouts that are not released.
    assert whole - names == {"event.toml"}


def test_a_sound_book_is_said_to_be_so_while_it_is_served(book: OpenBook) -> None:
    with client_of(book) as client:
        token = sign_in(client)
        page = client.post("/director/files", data={"form_token": token}).text
    assert "adds up and is sealed" in page


def test_a_stranger_takes_nothing(book: OpenBook) -> None:
    with client_of(book) as client:
        for path in ("results.zip", "sheets.zip", "roles.pdf"):
            assert client.get(f"/director/files/{path}").status_code == 401


def test_the_cards_of_the_roles_come_alone_and_name_the_head_judge(book: OpenBook) -> None:
    with client_of(book) as client:
        sign_in(client)
        answer = client.get("/director/files/roles.pdf?size=letter")
    assert answer.headers["content-type"] == "application/pdf"
    assert size_mm(answer.content) == (216, 279)
    head = next(one for one in book.state.crew.values() if "head_judge" in one.posts)
    assert book.people()[head.person].name in pages_of(answer.content)[0]


@pytest.mark.slow
def test_the_sheets_of_the_day_come_as_one_file(book: OpenBook) -> None:
    with client_of(book) as client:
        sign_in(client)
        names = names_in(client.get("/director/files/sheets.zip?size=letter"))
    assert {"cards.pdf", "heat-sheets.pdf", "day.pdf"} <= names
