"""``callroom pace``: what results show, taken over, dropped, and carried into another book."""

from pathlib import Path

import pytest

from callroom.actions import day as ask
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from tests.actions.day_building import report
from tests.bootstrap.day_books import START_MS, day_book
from tests.cli.running import callroom

pytestmark = pytest.mark.store


def finished_book(path: Path) -> Path:
    """A book in which all four teams have done the first workout, each in its time."""
    book = day_book(path)

    def do(request: object) -> None:
        book.ask_now(AT_THE_KEYBOARD, request, key=f"step-{book.state.seq}")  # type: ignore[arg-type]

    for heat, start_s, teams in (("w1-1", 70, ("T1", "T2")), ("w1-2", 1270, ("T3", "T4"))):
        do(ask.start_heat(heat, START_MS + start_s * 1000))
        for number, team_id in enumerate(teams):
            do(ask.report_score(report(heat, team_id, 90_000 + 9_000 * number)))
        do(ask.finish_heat(heat))
    book.close()
    return path


def used(path: Path) -> dict[str, bool]:
    book = open_book(path, writing=False)
    paces = {key: one.carried for key, one in book.state.paces.items()}
    book.close()
    return paces


def test_a_measured_pace_is_shown_taken_over_and_dropped(tmp_path: Path) -> None:
    path = finished_book(tmp_path / "day.book")
    shown = callroom("pace", path)
    assert shown.code == 0, shown.err
    assert "w1 a pairs" in shown.out
    assert used(path) == {}
    (row,) = callroom("pace", path, "--use", "--json").answer["paces"]
    assert (row["workout"], row["finished"], row["used_before_permille"]) == ("w1", 4, None)
    assert row["low_permille"] < row["permille"] < row["high_permille"]
    assert used(path) == {"w1/a/pairs": False}
    assert callroom("pace", path, "--drop").code == 0
    assert used(path) == {}


def test_next_years_event_begins_with_what_this_one_has_shown(tmp_path: Path) -> None:
    last = finished_book(tmp_path / "last.book")
    new = tmp_path / "next.book"
    day_book(new).close()
    ran = callroom("pace", new, "--from", last, "--use", "--json")
    assert ran.code == 0, ran.err
    keys = [(one["workout"], one["part"]) for one in ran.answer["paces"]]
    assert keys == [("w1", "a"), ("w2", "a"), ("w2", "b")]
    assert used(new) == {"w1/a/pairs": True, "w2/a/pairs": True, "w2/b/pairs": True}


def test_without_results_the_answer_is_no(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    day_book(path).close()
    ran = callroom("pace", path)
    assert ran.code == 1
    assert "three finished teams" in ran.err
    assert callroom("pace", path, "--use", "--drop").code == 2
