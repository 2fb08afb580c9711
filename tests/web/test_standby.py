"""If the laptop fails: what the director is told, and where phones are led."""

from callroom.bootstrap.copy_kept import CopyKept
from callroom.bootstrap.standby_files import CopyNote, TakenMark
from callroom.views.place_code import place_code
from callroom.web import WebSettings
from tests.web.building import client_of, example_book

NOTE = CopyNote(
    book="day.book",
    event="Harbour Hall Team Day",
    seq=174,
    seal="3fa9-01c2",
    last_ms=1_800_000_000_000,
    made_ms=1_800_000_001_000,
    digest="ab",
    generation=1,
    machine="front",
    addresses=(),
)


def shown(kept: CopyKept | None, **settings: object) -> str:
    book = example_book()
    book.standby_copy = kept
    options = WebSettings(port=8000, **settings)  # type: ignore[arg-type]
    with client_of(book, "director", settings=options) as client:
        text: str = client.get("/director/standby").text
        return text


def test_without_a_copy_the_director_is_told_how_to_keep_one() -> None:
    text = shown(None)
    assert "callroom serve BOOK --hall --keep FOLDER" in text
    assert "started for this machine only" in text


def test_the_last_copy_is_told_with_its_entry_and_seal_and_what_fails() -> None:
    text = shown(CopyKept(folder="/media/stick", note=NOTE))
    assert "/media/stick" in text
    assert "<dd>174</dd>" in text
    assert "3fa9-01c2" in text
    assert 'role="alert"' not in text
    assert "the stick is full" in shown(CopyKept(folder="x", failing="the stick is full"))


def test_a_laptop_that_was_replaced_says_by_whom() -> None:
    mark = TakenMark(generation=2, machine="back", address="", at_ms=0)
    assert "back carries on with this book." in shown(CopyKept(folder="x", taken=mark))


def test_phones_are_led_by_address_and_code() -> None:
    text = shown(None, hosts=("192.168.1.21",))
    assert "http://192.168.1.21:8000" in text
    assert place_code("http://192.168.1.21:8000") in text
