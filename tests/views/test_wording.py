"""How values are written."""

from datetime import UTC, date, datetime
from decimal import Decimal
from gettext import NullTranslations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import (
    Category,
    EventDay,
    Finding,
    Mass,
    Part,
    PublishedHeight,
    PublishedLoad,
    Switch,
    Who,
)
from callroom.views import wording
from callroom.views.day_wording import day_clock, day_name
from callroom.views.sentences import sentence
from tests.views.building import example_event


@pytest.mark.parametrize(
    ("time_s", "text"),
    [(0, "0:00"), (45, "0:45"), (720, "12:00"), (3599, "59:59"), (3600, "1:00:00")],
)
def test_stopwatch(time_s: int, text: str) -> None:
    assert wording.stopwatch(time_s) == text


@pytest.mark.parametrize(
    ("time_ms", "resolution_ms", "text"),
    [
        (452_490, 1000, "7:32"),
        (452_999, 1000, "7:32"),
        (452_490, 100, "7:32.4"),
        (452_499, 10, "7:32.49"),
        (452_499, 1, "7:32.499"),
        (452_499, 500, "7:32.0"),
        (59_700, 500, "0:59.5"),
    ],
)
def test_times_are_cut_off_to_their_resolution(time_ms: int, resolution_ms: int, text: str) -> None:
    assert wording.result_time(time_ms, resolution_ms) == text


def test_clock_times_are_the_venues() -> None:
    assert wording.clock(datetime(2026, 7, 4, 7, 5, tzinfo=UTC), "Europe/Berlin") == "09:05"
    assert wording.clock(datetime(2026, 7, 4, 7, 5, 9, tzinfo=UTC), "UTC") == "07:05:09"


def test_dates() -> None:
    assert wording.long_date(date(2026, 11, 14)) == "Saturday 14 November 2026"


@pytest.mark.parametrize(
    ("number", "text"),
    [
        (1, "1st"),
        (2, "2nd"),
        (3, "3rd"),
        (4, "4th"),
        (10, "10th"),
        (11, "11th"),
        (12, "12th"),
        (13, "13th"),
        (21, "21st"),
        (102, "102nd"),
        (111, "111th"),
        (1013, "1013th"),
    ],
)
def test_places(number: int, text: str) -> None:
    assert wording.place(number) == text


def test_loads_are_written_as_published() -> None:
    bar = PublishedLoad(kg=Decimal(43), lb=Decimal(95))
    assert wording.load(bar) == "43 kg / 95 lb"
    assert wording.load(bar, first="lb") == "95 lb / 43 kg"
    pair = PublishedLoad(kg=Decimal("22.50"), count=2)
    assert wording.load(pair) == "2 × 22.5 kg"
    assert wording.mass(Mass(amount=Decimal("1E+2"), unit="lb")) == "100 lb"


def test_heights_are_written_as_published() -> None:
    box = PublishedHeight(cm=Decimal(60), inch=Decimal(24))
    assert wording.height(box) == "60 cm / 24 in"
    assert wording.height(box, first="lb") == "24 in / 60 cm"
    target = PublishedHeight(cm=Decimal(270), inch=Decimal(108))
    assert wording.height(target) == "2.7 m / 9 ft"
    assert wording.height(target, first="lb") == "9 ft / 2.7 m"


def test_who_and_how_they_switch() -> None:
    women = Category(id="women", name="Women")
    assert wording.who(Who()) == "anyone"
    assert wording.who(Who(kind="category", category="women"), [women]) == "Women"
    assert wording.who(Who(kind="places", places=("A", "B", "D"))) == "A, B and D"
    assert wording.switching(Switch()) == ""
    relay = Switch(kind="every", every=5, hand_tag=True)
    assert wording.switching(relay) == "switch every 5, with a hand tag"


def test_goal() -> None:
    assert wording.goal(Part(id="a", kind="time", cap_s=720, blocks=())) == "For time, cap 12:00"


def test_another_language_orders_its_own_words() -> None:
    class Upper(NullTranslations):
        def gettext(self, message: str) -> str:
            return {"{place}st": "{place}.", "{several} and {last}": "{several} und {last}"}.get(
                message, message
            )

    assert wording.place(1, Upper()) == "1."
    assert wording.joined(["A", "B", "C"], Upper()) == "A, B und C"


def test_unknown_movements_are_named_by_their_id() -> None:
    assert wording.movement("toes_to_bar", {}) == "toes to bar"


def test_names_that_act_are_made_to_lie_still() -> None:
    assert wording.one_line("  Rope\n& \t Anchor ") == "Rope & Anchor"
    assert wording.one_line("\u202eevil\u202c \u2066twin\u2069\x00\x1b[2J") == "evil twin[2J"
    assert wording.one_line("x" * 10_000, longest=5) == "xxxx…"


@given(st.text(), st.integers(1, 80))
def test_one_line_is_short_and_settled(text: str, longest: int) -> None:
    line = wording.one_line(text, longest)
    assert len(line) <= longest
    assert wording.one_line(line, longest) == line


@pytest.mark.parametrize(
    ("numbers", "text"),
    [((), ""), ((4,), "4"), ((3, 1, 2, 5), "1–3, 5"), ((1, 2, 7, 8), "1–2, 7–8")],
)
def test_runs_of_numbers_are_drawn_together(numbers: tuple[int, ...], text: str) -> None:
    assert wording.spans(numbers) == text


def test_a_clock_names_the_day_where_an_event_has_several() -> None:
    event = example_event()
    plain = day_clock(event, 3600)
    days = tuple(
        EventDay(id=name, name=name, opens_s=start_s, closes_s=start_s + 36_000)
        for name, start_s in (("Saturday", 3600), ("Sunday", 90_000))
    )
    several = replace(event, wishes=replace(event.wishes, days=days))
    assert day_clock(several, 3600) == f"Saturday {plain}"
    assert day_clock(several, 3600 + 86_400) == f"Sunday {plain}"
    said = Finding("check.too_early", "warning", "heat.h", {
        "heat": "h", "start_at_s": 3600 + 86_400, "opens_at_s": 90_000})  # fmt: skip
    assert f"Sunday {plain}" in sentence(said, event=several)
    assert "Sunday" not in sentence(said, event=event)


def test_a_day_goes_on_until_the_next_and_one_alone_has_no_name() -> None:
    days = tuple(
        EventDay(id=name, name=name, opens_s=start_s, closes_s=start_s + 36_000)
        for name, start_s in (("Saturday", 36_000), ("Sunday", 122_400))
    )
    moments = (0, 30_000, 36_000, 90_000, 110_000, 130_000)
    names = [day_name(days, moment_s) for moment_s in moments]
    assert names == ["", "Saturday", "Saturday", "Saturday", "Sunday", "Sunday"]
    assert {day_name(days[:1], moment_s) for moment_s in moments} == {""}
