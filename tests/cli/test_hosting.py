"""A book hosted behind TLS by real commands: to the hall, and back, at one address."""

import json
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import httpx
import pytest

from callroom.actions.day import call_heat
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.cli.rehearsal import Stage
from tests.bootstrap.day_books import day_book
from tests.cli.running import callroom

pytestmark = pytest.mark.store

NAME = "entries.example.org"
PASSPHRASE = "seven green bottles"
BY_TLS = {
    "host": NAME,
    "accept": "text/html",
    "x-forwarded-proto": "https",
    "x-forwarded-for": "203.0.113.7",
}


@contextmanager
def hosted(path: Path) -> Iterator[str]:
    """A real server of a hosted book; gives its address on this machine."""
    words = ["serve", str(path), "--port", "0", "--behind-tls", f"https://{NAME}", "--json"]
    server = subprocess.Popen(
        [sys.executable, "-m", "callroom", *words], stdout=subprocess.PIPE, text=True
    )
    try:
        assert server.stdout is not None
        yield json.loads("".join(iter(server.stdout.readline, "}\n")) + "}")["url"]
    finally:
        server.terminate()
        server.communicate(timeout=20)


class Browser:
    """A director's browser that comes by way of the server that ends TLS; nothing is kept open."""

    def __init__(self, url: str) -> None:
        self._url, self._cookie = url, ""
        page = self.get("/sign-in")
        data = {"passphrase": PASSPHRASE, "form_token": token_in(page)}
        answer = self.post("/sign-in", data=data)
        assert answer.status_code == 303, answer.text

    def get(self, path: str) -> httpx.Response:
        return self._ask("GET", path)

    def post(self, path: str, **sent: Any) -> httpx.Response:
        return self._ask("POST", path, **sent)

    def _ask(self, method: str, path: str, **sent: Any) -> httpx.Response:
        headers = BY_TLS | {"cookie": self._cookie}
        answer = httpx.request(method, self._url + path, headers=headers, timeout=20, **sent)
        if "set-cookie" in answer.headers:
            assert answer.headers["set-cookie"].startswith("__Host-")
            assert "Secure" in answer.headers["set-cookie"]
            self._cookie = answer.headers["set-cookie"].split(";")[0]
        return answer


def token_in(page: httpx.Response) -> str:
    return page.text.split('name="form_token" value="')[1].split('"')[0]


def press(browser: Browser, do: str) -> httpx.Response:
    token = token_in(browser.get("/director/hosting"))
    return browser.post("/director/hosting", data={"form_token": token, "do": do})


def give_back(browser: Browser, file: Path) -> httpx.Response:
    token = token_in(browser.get("/director/hosting"))
    return browser.post(
        "/director/hosting/back",
        data={"form_token": token},
        files={"book": (file.name, file.read_bytes())},
    )


def test_a_hosted_book_goes_to_the_hall_and_comes_back(tmp_path: Path) -> None:
    path, hall = tmp_path / "gala.book", tmp_path / "hall.book"
    day_book(path).close()
    assert callroom("passphrase", path, "--set", PASSPHRASE).code == 0
    with hosted(path) as url:
        browser = Browser(url)
        assert browser.get("/director/hosting/book").status_code == 409
        assert press(browser, "take").status_code == 303
        assert "This event was taken to the hall." in browser.get("/").text
        hall.write_bytes(browser.get("/director/hosting/book").content)
        assert callroom("take", hall).code == 0
        in_hall = open_book(hall)
        in_hall.ask_now(AT_THE_KEYBOARD, call_heat("w1-1"), key="call")
        in_hall.close()
        assert "The book is back." in give_back(browser, hall).text
        # The server opens what came back under the same address; who was signed in still is.
        deadline_s = time.monotonic() + 20
        while "Bring it back" in (page := _read(browser, "/director/hosting")) or not page:
            assert time.monotonic() < deadline_s
        assert "Take it to the hall" in page
        assert "This event was taken to the hall." not in page
    back = open_book(path, writing=False)
    assert (back.state.generation, back.state.heat_run("w1-1").stage) == (3, "called")
    back.close()


def _read(browser: Browser, path: str) -> str:
    try:
        return browser.get(path).text
    except httpx.TransportError:
        return ""


def test_behind_tls_nothing_else_is_private(tmp_path: Path) -> None:
    book = day_book(tmp_path / "gala.book")
    with Stage(book, behind_tls=True, address=f"https://{NAME}") as stage:
        # Whoever forgets the headers before this server makes strangers look near.
        for headers in ({"host": "localhost"}, {"host": NAME}, {"host": "127.0.0.1"}):
            answer = httpx.get(f"{stage.url}/sign-in", headers=headers)
            assert (answer.status_code, answer.json()["rule"]) == (403, "web.needs_privacy")
        first = httpx.get(f"{stage.url}/sign-in", headers={**BY_TLS, "accept": "*/*"})
        assert first.json()["rule"] == "web.first_by_command"
        other = httpx.get(f"{stage.url}/", headers={**BY_TLS, "host": "other.example.org"})
        assert other.status_code == 421
    with Stage(book) as stage:
        # Without being told so, no header makes a network private.
        answer = httpx.get(f"{stage.url}/sign-in", headers={**BY_TLS, "host": "localhost"})
        assert "__Host-" not in answer.headers["set-cookie"]
    book.close()


@pytest.mark.parametrize(
    "words", [("http://entries.example.org",), ("https://x.example", "--hall")]
)
def test_an_address_that_is_not_behind_tls_is_refused(tmp_path: Path, words: tuple[str]) -> None:
    day_book(tmp_path / "gala.book").close()
    ran = callroom("serve", tmp_path / "gala.book", "--behind-tls", *words)
    assert ran.code == 2
    assert "--behind-tls" in ran.err
