"""What fast hands type."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.model import Mass
from callroom.views.wording import result_time
from callroom.web.forms.typed import read_count, read_mass, read_time_ms


@pytest.mark.parametrize(
    ("text", "time_ms"),
    [
        ("7:32", 452_000),
        (" 07:32 ", 452_000),
        ("7:32.4", 452_400),
        ("7:32,45", 452_450),
        ("0:45", 45_000),
        ("1:05:00", 3_900_000),
        ("732", 452_000),
        ("1205", 725_000),
        ("45", 45_000),
        ("5", 5_000),
        ("732.5", 452_500),
        ("10500", 3_900_000),
        ("75:10", 4_510_000),
        ("0", 0),
    ],
)
def test_times_with_and_without_their_colon(text: str, time_ms: int) -> None:
    assert read_time_ms(text) == time_ms


@pytest.mark.parametrize(
    "text",
    ["", "7:60", "7:5", "760", "seven", "7;32", "-7:32", "7:32:1", "1:60:00", "\u0667:\u0663\u0662", "7:32.1234",
     "1e3", "7:32 8", "1234567"],
)  # fmt: skip
def test_what_is_no_time_is_not_guessed_at(text: str) -> None:
    assert read_time_ms(text) is None


@given(st.integers(min_value=0, max_value=99 * 3600 * 10))
def test_a_time_as_shown_reads_back(tenths: int) -> None:
    time_ms = tenths * 100
    assert read_time_ms(result_time(time_ms, 100)) == time_ms


@given(st.text(max_size=20))
def test_any_text_is_read_or_not_but_never_breaks(text: str) -> None:
    for value in (read_time_ms(text), read_count(text)):
        assert value is None or value >= 0
    mass = read_mass(text, "kg")
    assert mass is None or mass.amount >= 0


@pytest.mark.parametrize(
    ("text", "count"),
    [("0", 0), (" 107 ", 107), ("1000000", 1_000_000), ("1000001", None), ("", None),
     ("-1", None), ("3.0", None), ("1 0", None), ("²", None)],
)  # fmt: skip
def test_counts(text: str, count: int | None) -> None:
    assert read_count(text) == count


@pytest.mark.parametrize(
    ("text", "unit", "mass"),
    [
        ("102.5", "kg", Mass(amount=Decimal("102.5"), unit="kg")),
        ("102,5", "kg", Mass(amount=Decimal("102.5"), unit="kg")),
        ("225", "lb", Mass(amount=Decimal(225), unit="lb")),
        ("225 LB", "kg", Mass(amount=Decimal(225), unit="lb")),
        ("100kg", "lb", Mass(amount=Decimal(100), unit="kg")),
        ("heavy", "kg", None),
        ("12345", "kg", None),
        ("", "kg", None),
    ],
)
def test_loads_in_the_events_unit_or_the_one_typed(text: str, unit: str, mass: Mass | None) -> None:
    assert read_mass(text, unit) == mass  # type: ignore[arg-type]
