"""Devices with when they were last seen; signing out everybody, one role, or the other directors."""

from callroom.actions import day
from callroom.web.seen import by_printed
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token


def book_with_devices() -> FakeBook:
    book = example_book()
    for role in ("judge", "crew"):
        book.do(DIRECTOR, day.join_device(f"{role}-1", role))
    return book


def sign_out(book: FakeBook, whose: str, **fields: str) -> str:
    form = {"form_token": form_token("director"), "do": "sign_out", "whose": whose, **fields}
    with client_of(book, "director") as client:
        page: str = client.post("/director/devices", data=form).text
    return page


def revoked(book: FakeBook) -> set[str]:
    return {one.id for one in book.state.devices.values() if one.revoked_seq is not None}


def test_nobody_is_signed_out_by_a_slip() -> None:
    book = book_with_devices()
    assert "Nothing was done" in sign_out(book, "all")
    assert revoked(book) == set()


def test_one_role_is_signed_out_with_its_unused_codes() -> None:
    book = book_with_devices()
    assert "Signed out: 1 devices" in sign_out(book, "judge", sure="on")
    assert revoked(book) == {"judge-1"}
    assert book.doors.codes == {}


def test_everybody_is_signed_out_but_this_browser() -> None:
    book = book_with_devices()
    book.doors.holders["another"] = DIRECTOR
    page = sign_out(book, "all", sure="on")
    assert "2 devices, 1 other sessions" in page
    assert revoked(book) == {"judge-1", "crew-1"}
    with client_of(book, "director") as client:
        assert client.get("/director/devices").status_code == 200


def test_a_device_is_shown_with_when_it_asked_and_how_its_clock_stands() -> None:
    book = book_with_devices()
    with client_of(book, "director") as client:
        assert "not since the server began" in client.get("/director/devices").text
        seen = client.house.seen
        seen.device("judge-1", book.now_ms(), 40)
        seen.device("judge-1", book.now_ms())
        assert "within 40 ms" in client.get("/director/devices").text
        seen.device("judge-1", book.now_ms(), 900, 3)
        page = client.get("/director/devices").text
    assert "off by up to 900 ms" in page
    assert "3 more to send then" in page


def test_a_pad_says_how_much_waits_behind() -> None:
    book = book_with_devices()
    entry = {"kind": "lane.ready", "data": {"heat": "w1-1", "lane": 1}}
    for key, told, known in (("a", "4", 4), ("b", "", 4), ("c", "-1", 4), ("d", "0", 0)):
        heads = {"idempotency-key": key, "x-form-token": form_token("judge"), "x-waiting": told}
        with client_of(book, "judge") as client:
            client.house.seen.device("judge-1", 1, None, 4)
            assert client.post("/entries", json=entry, headers=heads).status_code == 200
            assert client.house.seen.devices["judge-1"].waiting == known


def test_a_phone_that_came_by_the_printed_address_is_told_from_others() -> None:
    printed = "http://192.168.1.20:8000"
    assert by_printed("192.168.1.20:8000", "192.168.1.50", printed)
    assert not by_printed("192.168.1.20:8000", "127.0.0.1", printed)
    assert not by_printed("localhost:8000", "192.168.1.50", printed)
    assert not by_printed("192.168.1.20:8000", "192.168.1.50", "")


def test_a_phone_at_the_printed_address_is_remembered() -> None:
    book = example_book()
    network = {"peer": "192.168.1.50", "base_url": "http://192.168.1.20:8000"}
    with client_of(book, **network) as phone:  # type: ignore[arg-type]
        assert phone.house.seen.printed_ms is None
        phone.get("/timetable")
        assert phone.house.seen.printed_ms == book.now_ms()
