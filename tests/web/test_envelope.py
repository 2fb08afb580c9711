"""Around every answer: known hosts only, own pages only, strict headers."""

import pytest

from callroom.web import WebSettings
from callroom.web.hosts import host_name, is_private
from tests.web.building import client_of, example_book

POLICY = (
    "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; "
    "object-src 'none'"
)


@pytest.mark.parametrize("path", ["/", "/timetable", "/nothing", "/static/site.css", "/health"])
def test_every_answer_carries_the_strict_headers(path: str) -> None:
    with client_of(example_book()) as client:
        response = client.get(path)
    assert response.headers["content-security-policy"] == POLICY
    assert "unsafe" not in response.headers["content-security-policy"]
    assert response.headers["x-content-type-options"] == "nosniff"
    assert response.headers["referrer-policy"] == "same-origin"


def test_pages_are_not_stored_but_versioned_files_are_for_ever() -> None:
    with client_of(example_book()) as client:
        page = client.get("/")
        address = next(
            part.split('"')[0] for part in page.text.split('href="') if part.startswith("/static")
        )
        file = client.get(address)
        old = client.get("/static/site.css?v=000000000000")
    assert page.headers["cache-control"] == "no-store"
    assert file.headers["cache-control"] == "public, max-age=31536000, immutable"
    assert old.headers["cache-control"] == "public, max-age=86400"


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("localhost:8000", 200),
        ("127.0.0.1:8000", 200),
        ("[::1]:8000", 200),
        ("192.168.1.20:8000", 200),  # the event's own address
        ("hall-laptop.local", 200),  # as set
        ("HALL-LAPTOP.local:80", 200),
        ("evil.example", 421),
        ("localhost.evil.example", 421),
        ("192.168.1.20.evil.example", 421),
        ("", 421),
        ("localhost:8000@evil.example", 421),
        ("[", 421),
    ],
)
def test_only_names_of_this_server_are_answered(host: str, status: int) -> None:
    settings = WebSettings(port=8000, hosts=("hall-laptop.local",))
    with client_of(example_book(), settings=settings) as client:
        response = client.get("/health", headers={"host": host})
    assert response.status_code == status
    if status == 421:
        assert response.json()["rule"] == "web.other_host"


@pytest.mark.parametrize(
    ("headers", "refused"),
    [
        ({}, False),
        ({"origin": "http://localhost:8000"}, False),
        ({"origin": "http://localhost:8000", "sec-fetch-site": "same-origin"}, False),
        ({"origin": "http://evil.example"}, True),
        ({"origin": "http://localhost:8001"}, True),
        ({"origin": "https://localhost:8000"}, True),
        ({"origin": "null"}, True),
        ({"sec-fetch-site": "cross-site"}, True),
        ({"sec-fetch-site": "same-site"}, True),
    ],
)
def test_a_changing_request_must_come_from_our_own_page(
    headers: dict[str, str], refused: bool
) -> None:
    with client_of(example_book(), "crew") as client:
        response = client.post("/board", data={}, headers={**headers, "accept": "application/json"})
    assert response.status_code == 403
    assert response.json()["rule"] == ("web.other_origin" if refused else "web.forged")


@pytest.mark.parametrize(
    ("scheme", "host", "peer", "private"),
    [
        ("http", "localhost:8000", "127.0.0.1", True),
        ("http", "[::1]:8000", "::1", True),
        ("http", "localhost", "::ffff:127.0.0.1", True),
        ("https", "192.168.1.20", "192.168.1.77", True),
        ("http", "192.168.1.20", "192.168.1.77", False),
        ("http", "localhost", "192.168.1.77", False),
        # A tunnel on this machine makes strangers look near: the name gives them away.
        ("http", "book.example", "127.0.0.1", False),
        ("http", "localhost", "somewhere", False),
    ],
)
def test_private_means_tls_or_the_machine_itself(
    scheme: str, host: str, peer: str, private: bool
) -> None:
    assert is_private(scheme, host, peer) is private


def test_host_names_are_read_without_port_brackets_and_case() -> None:
    assert host_name("LocalHost:8000") == "localhost"
    assert host_name("[2001:db8::1]:80") == "2001:db8::1"
