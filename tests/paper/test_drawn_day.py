"""How a floor's day is parted into pages, and what Typst's complaints become."""

import re
from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model import EventDay
from callroom.paper import PaperFailed, typesetting
from callroom.paper.phrases import clock, clock_after, day_and_clock
from callroom.paper.timetables import _parted, floors_payload, overview_payload
from callroom.paper.typesetting import typeset
from callroom.views.timetable import HeatSlot, timetable
from callroom.views.wording import ENGLISH, weekday
from callroom.views.work_wording import speech_of
from tests.views.building import HOUR, example_event, example_state

QUARTER = 900


def slots(*times: tuple[int, int]) -> list[HeatSlot]:
    """Heats of the example moved to the times given."""
    pattern = timetable(example_state()).floors[0].heats[0]
    return [
        msgspec.structs.replace(pattern, id=str(start_s), start_s=start_s, end_s=end_s)
        for start_s, end_s in times
    ]


def drawn_length(page: list[HeatSlot]) -> int:
    return page[-1].end_s - page[0].start_s + 2 * QUARTER


days = st.lists(
    st.tuples(st.integers(60, 3 * HOUR), st.integers(300, 2400)), min_size=1, max_size=40
)


@given(days, st.integers(2 * HOUR, 8 * HOUR))
def test_pages_hold_every_heat_once_and_fit(drawn: list[tuple[int, int]], room_s: int) -> None:
    at_s, times = 0, []
    for gap_s, length_s in drawn:
        times.append((at_s + gap_s, at_s + gap_s + length_s))
        at_s += gap_s + length_s
    heats = slots(*times)
    pages = _parted(heats, room_s)
    assert [heat for page in pages for heat in page] == heats
    assert all(drawn_length(page) <= room_s for page in pages)


def test_a_long_day_is_parted_where_it_rests() -> None:
    morning = [(HOUR + n * 1200, HOUR + n * 1200 + 900) for n in range(9)]
    afternoon = [(6 * HOUR + n * 1200, 6 * HOUR + n * 1200 + 900) for n in range(4)]
    pages = _parted(slots(*morning, *afternoon), 6 * HOUR)
    assert [len(page) for page in pages] == [9, 4]


def test_what_lies_between_two_pages_is_said_beside_them() -> None:
    state = example_state()
    payload = floors_payload(timetable(state), 216, speech_of(example_event(), {}))
    pages = payload["pages"]
    assert isinstance(pages, list)
    assert [(page["before"], page["after"]) for page in pages] == [
        ("08:30 Athletes' briefing", "12:00 Lunch"),
        ("", "17:00 Awards"),
        ("08:30 Athletes' briefing · 12:00 Lunch", "17:00 Awards"),
    ]


def test_an_event_of_two_days_is_drawn_on_a_page_for_each() -> None:
    view, speech = timetable(example_state()), speech_of(example_event(), {})
    one_day = overview_payload(view, speech)["pages"]
    assert isinstance(one_day, list)
    assert [page["day"] for page in one_day] == [""]
    late = [
        msgspec.structs.replace(
            heat, start_s=heat.start_s + 24 * HOUR, end_s=heat.end_s + 24 * HOUR
        )
        for heat in view.floors[0].heats
    ]
    first = msgspec.structs.replace(view.floors[0], heats=(*view.floors[0].heats, *late))
    both = msgspec.structs.replace(view, floors=(first, *view.floors[1:]))
    pages = overview_payload(both, speech)["pages"]
    assert isinstance(pages, list)
    assert len({page["day"] for page in pages}) == len(pages) == 2
    counts = [len(page["floors"][0]["heats"]) for page in pages]
    assert counts == [len(late), len(late)]
    assert all(page["to_s"] - page["from_s"] < 24 * HOUR for page in pages)


def test_a_time_on_a_later_day_is_said_with_its_weekday() -> None:
    head = timetable(example_state()).masthead
    assert day_and_clock(head, HOUR, ENGLISH) == clock(head, HOUR)
    later = day_and_clock(head, 25 * HOUR, ENGLISH)
    assert later == f"{weekday(head.day + timedelta(days=1))} {clock(head, HOUR)}"


def test_of_several_days_a_list_of_times_names_each_day_once() -> None:
    days = (
        EventDay(id="sat", name="Saturday", opens_s=0, closes_s=10 * HOUR),
        EventDay(id="sun", name="Sunday", opens_s=24 * HOUR, closes_s=34 * HOUR),
    )
    head = msgspec.structs.replace(timetable(example_state()).masthead, days=days)
    times = (HOUR, 2 * HOUR, 25 * HOUR, 26 * HOUR)
    told = [
        clock_after(head, at_s, before_s, ENGLISH)
        for before_s, at_s in zip((None, *times), times, strict=False)
    ]
    bare = [clock(head, at_s) for at_s in times]
    assert told == [f"Saturday {bare[0]}", bare[1], f"Sunday {bare[2]}", bare[3]]
    assert day_and_clock(head, 26 * HOUR, ENGLISH) == f"Sunday {bare[3]}"


def set_text(source: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> bytes:
    """Set a template of our own making."""
    (folder / "sheet.typ").write_text(source, encoding="utf-8")
    monkeypatch.setattr(typesetting, "_TEMPLATES", folder)
    return typeset("sheet", {}, size="a4", at=datetime(2026, 1, 1, tzinfo=UTC))


DRESS = '#set document(title: "T")\n#set text(font: "Source Sans 3")\n'


def test_a_warning_is_a_failure(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert set_text(DRESS + "Fine", tmp_path, monkeypatch).startswith(b"%PDF")
    with pytest.raises(PaperFailed, match="unknown font family"):
        set_text(DRESS + '#set text(font: "Nowhere")\nText', tmp_path, monkeypatch)


def test_figures_are_as_wide_as_each_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    widths = (
        '#set text(number-width: "tabular")\n#context for weight in (400, 600, 700) {\n'
        "  let of(digit) = measure(text(weight: weight, str(digit))).width\n"
        "  for digit in range(10) { assert.eq(of(digit), of(0)) }\n}\nSame"
    )
    assert set_text(DRESS + widths, tmp_path, monkeypatch).startswith(b"%PDF")


def test_white_text_on_a_workouts_colour_can_be_read() -> None:
    """Contrast of 4.5 at least: Web Content Accessibility Guidelines 2.2, 1.4.3."""
    look = (Path(typesetting.__file__).parent / "templates" / "look.typ").read_text("utf-8")
    listed = look[look.index("workout-colours") : look.index("#let colour-of")]
    colours = re.findall(r'rgb\("#([0-9a-f]{6})"\)', listed)
    assert len(colours) == 8
    assert all(1.05 / (luminance(colour) + 0.05) >= 4.5 for colour in colours)


def luminance(colour: str) -> float:
    """Relative luminance of an sRGB colour, as the guidelines define it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (0, 2, 4)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def test_a_fault_is_a_failure_that_says_what_is_wrong(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(PaperFailed, match="unknown variable"):
        set_text(DRESS + "#nothing", tmp_path, monkeypatch)


def test_a_template_reaches_nothing_outside_its_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "secret.txt").write_text("secret", encoding="utf-8")
    (tmp_path / "in").mkdir()
    with pytest.raises(PaperFailed):
        set_text(DRESS + '#read("../secret.txt")', tmp_path / "in", monkeypatch)


def test_missing_fonts_are_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for cached in (typesetting._font_files, typesetting._covered, typesetting._typst_fonts):
        cached.cache_clear()
    with monkeypatch.context() as patched:
        patched.setattr(typesetting, "_FONTS", tmp_path)
        with pytest.raises(PaperFailed, match=r"paper\.fonts_missing"):
            typeset("day", {}, size="a4", at=datetime(2026, 1, 1, tzinfo=UTC))
