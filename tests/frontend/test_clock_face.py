"""What a clock shows at an instant, and when it gives a sign."""

import itertools
import json
from typing import Any

from tests.frontend.running import evaluate

ZERO = 1_000_000


def span(from_s: int, until_s: int, *, up: bool = True, base_s: int = 0, says: str = "") -> Any:
    return {
        "from_ms": from_s * 1000,
        "until_ms": until_s * 1000,
        "base_ms": base_s * 1000,
        "up": up,
        "says": says,
    }


def face(*spans: Any, held_s: float | None = None) -> Any:
    held_ms = None if held_s is None else ZERO + int(held_s * 1000)
    return {"zero_ms": ZERO, "held_ms": held_ms, "spans": spans}


def shown(given: Any, *at_ms: int) -> list[tuple[str, str, str, str]]:
    """Phase, digits, the other way round and what is going on, at times from nought."""
    said = evaluate(
        "clock/face.ts",
        f"{json.dumps([ZERO + ms for ms in at_ms])}.map((at) => it.show({json.dumps(given)}, at))",
    )
    return [(one["phase"], one["digits"], one["other"], one["says"]) for one in said]


def test_a_time_counts_up_from_nought_and_stays_at_its_cap() -> None:
    assert shown(face(span(0, 600)), -9_001, -1, 0, 999, 61_000, 599_999, 600_000, 999_999) == [
        ("countdown", "10", "", ""),
        ("countdown", "1", "", ""),
        ("running", "0:00", "10:00", ""),
        ("running", "0:00", "10:00", ""),
        ("running", "1:01", "8:59", ""),
        ("running", "9:59", "0:01", ""),
        ("over", "10:00", "0:00", ""),
        ("over", "10:00", "0:00", ""),
    ]


def test_everything_else_counts_down() -> None:
    assert shown(face(span(0, 540, up=False)), 0, 1, 539_999, 540_000) == [
        ("running", "9:00", "0:00", ""),
        ("running", "9:00", "0:00", ""),
        ("running", "0:01", "8:59", ""),
        ("over", "0:00", "9:00", ""),
    ]


def test_rounds_and_rests_are_told_by_name() -> None:
    given = face(
        span(0, 60, up=False, says="Round 1 of 2"),
        span(60, 120, up=False, says="Round 2 of 2"),
        span(120, 180, up=False, base_s=120, says="Rest"),
        span(180, 480, base_s=180, says="B"),
    )
    assert shown(given, 59_999, 60_000, 150_000, 180_000, 181_000) == [
        ("running", "0:01", "0:59", "Round 1 of 2"),
        ("running", "1:00", "1:00", "Round 2 of 2"),
        ("running", "0:30", "0:30", "Rest"),
        ("running", "0:00", "5:00", "B"),
        ("running", "0:01", "4:59", "B"),
    ]


def test_a_clock_that_was_stopped_stands_still() -> None:
    given = face(span(0, 600), held_s=72.5)
    assert shown(given, 100_000, 900_000) == [("held", "1:12", "8:48", "")] * 2


def test_a_clock_turns_on_whole_seconds_from_nought() -> None:
    waits = evaluate(
        "clock/face.ts",
        f"[-1250, -1000, 0, 1, 999].map((ms) => "
        f"it.untilTurn({json.dumps(face(span(0, 60)))}, {ZERO} + ms))",
    )
    assert waits == [250, 1000, 1000, 999, 1]


def signs(given: Any, *edges_ms: int) -> list[Any]:
    pairs = json.dumps([[ZERO + a, ZERO + b] for a, b in itertools.pairwise(edges_ms)])
    found = evaluate(
        "clock/signals.ts",
        f"{pairs}.map(([a, b]) => it.signalBetween({json.dumps(given)}, a, b))",
    )
    return [None if one is None else (one["at_ms"], one["sign"]) for one in found]


def test_signs_count_in_the_start_every_turn_and_the_end() -> None:
    given = face(span(0, 60, up=False), span(60, 120, up=False))
    assert signs(given, -3_001, -3_000, -2_000, -1_000, -1, 0, 56_999, 57_000, 60_000, 119_999,
                 120_000, 130_000) == [
        (-3_000, "short"), (-2_000, "short"), (-1_000, "short"), None, (0, "long"),
        None, (57_000, "short"), (60_000, "long"), (119_000, "short"), (120_000, "end"), None,
    ]  # fmt: skip


def test_a_held_clock_gives_no_sign() -> None:
    assert signs(face(span(0, 60), held_s=30), -10, 10, 70_000) == [None, None]
