"""`callroom` alone: a list of books in the browser, each opened by its own server."""

from pathlib import Path
from typing import Any

import pytest
from litestar.testing import TestClient

from callroom.bootstrap.books import new_book
from callroom.bootstrap.serving_apart import Servers
from callroom.journal.stores import lease_of
from callroom.web.shelf import ShelfPorts, make_shelf

pytestmark = pytest.mark.store


AT = "http://127.0.0.1:9999/"


def ports(folder: Path, served: list[Path]) -> ShelfPorts:
    def serve(path: Path) -> str:
        served.append(path)
        return AT

    return ShelfPorts(folder=folder, make=new_book, make_demo=new_book, serve=serve)


def client(shelf: ShelfPorts) -> TestClient:  # type: ignore[type-arg]
    app = make_shelf(shelf)
    inner = app.asgi_handler

    async def from_here(scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] == "http":
            scope["client"] = ("127.0.0.1", 1)
        await inner(scope, receive, send)

    app.asgi_handler = from_here
    return TestClient(app, base_url="http://127.0.0.1:8123")


def token_in(page: str) -> str:
    return page.split('name="form_token" value="')[1].split('"', maxsplit=1)[0]


def test_books_are_listed_made_and_opened(tmp_path: Path) -> None:
    served: list[Path] = []
    with client(ports(tmp_path / "books", served)) as browser:
        page = browser.get("/").text
        assert "There is no book yet" in page
        form = {"form_token": token_in(page), "name": "Spring day"}
        made = browser.post("/new", data=form, follow_redirects=False)
        assert made.status_code == 303
        assert (tmp_path / "books" / "Spring day.book").is_file()
        assert "Open Spring day" in browser.get("/").text
        assert browser.post("/open", data=form, follow_redirects=False).headers["location"] == AT
        assert served == [tmp_path / "books" / "Spring day.book"] * 2
        assert browser.post("/new", data=form).status_code == 409


@pytest.mark.parametrize("name", ["", "../elsewhere", "a/b", "a\\b", ".hidden", "x" * 81, "a\nb"])
def test_a_name_that_is_no_file_name_is_refused(tmp_path: Path, name: str) -> None:
    with client(ports(tmp_path / "books", [])) as browser:
        token = token_in(browser.get("/").text)
        for verb in ("/new", "/open"):
            answer = browser.post(verb, data={"form_token": token, "name": name})
            assert answer.status_code == 409
            assert "cannot be the name of a file" in answer.text
    assert not (tmp_path / "books").exists()


def test_no_other_site_and_no_other_machine_uses_it(tmp_path: Path) -> None:
    with client(ports(tmp_path, [])) as browser:
        token = token_in(browser.get("/").text)
        assert browser.post("/new", data={"name": "x"}).status_code == 409
        crossed = browser.post(
            "/new",
            data={"form_token": token, "name": "x"},
            headers={"sec-fetch-site": "cross-site"},
        )
        assert crossed.status_code == 409
        other = browser.get("/", headers={"host": "callroom.example"})
        assert "Your books" not in other.text or other.status_code == 409
    assert not list(tmp_path.iterdir())


def test_the_shelf_speaks_what_the_browser_reads(tmp_path: Path) -> None:
    with client(ports(tmp_path, [])) as browser:
        page = browser.get("/", headers={"accept-language": "es-ES,es;q=0.9"}).text
        assert '<html lang="es-ES">' in page
        assert "Tus libros" in page
        assert "Your books" in browser.get("/", headers={"accept-language": "de"}).text


def test_a_book_is_served_by_a_process_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    new_book(path)
    servers = Servers()
    try:
        address = servers.address_of(path)
        assert servers.address_of(path) == address
        lease = lease_of(path)
        assert lease is not None
        assert address == f"http://127.0.0.1:{lease.port}/"
    finally:
        servers.close()
