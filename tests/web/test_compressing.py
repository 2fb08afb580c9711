"""Whole texts are made small for browsers that take that; streams and files go as they are."""

from tests.web.building import client_of, example_book


def test_a_page_is_small_where_the_browser_takes_it_and_the_same_after() -> None:
    with client_of(example_book()) as client:
        plain = client.get("/timetable", headers={"accept-encoding": "identity"})
        small = client.get("/timetable", headers={"accept-encoding": "gzip, br"})
    assert "content-encoding" not in plain.headers
    assert small.headers["content-encoding"] == "gzip"
    assert small.headers["vary"] == "accept-encoding"
    assert int(small.headers["content-length"]) * 3 < len(plain.content)
    assert small.headers["content-security-policy"] == plain.headers["content-security-policy"]
    assert "</html>" in small.text


def test_styles_are_small_and_fonts_which_are_small_already_are_not() -> None:
    with client_of(example_book()) as client:
        style = client.get("/static/site.css", headers={"accept-encoding": "gzip"})
        font = client.get("/static/fonts/source-sans-3.woff2", headers={"accept-encoding": "gzip"})
    assert style.headers["content-encoding"] == "gzip"
    assert "content-encoding" not in font.headers
    assert font.content[:4] == b"wOF2"


def test_what_fits_one_packet_goes_as_it_is() -> None:
    with client_of(example_book()) as client:
        answer = client.get("/health", headers={"accept-encoding": "gzip"})
    assert "content-encoding" not in answer.headers
    assert answer.status_code == 200
