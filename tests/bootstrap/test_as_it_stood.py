"""What an appeal's decision changed is read from the journal, also after opening it again."""

from pathlib import Path

import pytest

from callroom.actions import day as ask
from callroom.actions.verdicts import decide_appeal, make_appeal
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book
from callroom.journal.entries import bodies
from callroom.model import NotFound, Result
from callroom.views.appeals import appeal_text, effect
from tests.actions.day_building import HEAD_JUDGE, JUDGE, report
from tests.bootstrap.day_books import START_MS, day_book

pytestmark = pytest.mark.store


def test_a_decision_is_shown_by_the_states_around_its_whole_request(tmp_path: Path) -> None:
    book = day_book(tmp_path / "day.book")
    for heat, team, time_ms in (
        ("w1-1", "T1", 300_000),
        ("w1-1", "T2", 310_000),
        ("w1-2", "T3", 320_000),
        ("w1-2", "T4", 330_000),
    ):
        book.ask_now(JUDGE, ask.report_score(report(heat, team, time_ms)), key=f"score {team}")
    filed = make_appeal(
        "T4", "Added up wrong.", ground="arithmetic", handed_in_ms=START_MS, workout="w1", part="a"
    )
    book.ask_now(AT_THE_KEYBOARD, filed, key="appeal")
    change = bodies.ScoreCorrected(
        workout="w1",
        part="a",
        team="T4",
        attempt=1,
        result=Result(outcome="finished", time_ms=305_000),
        reason="the card",
    )
    decided = decide_appeal(1, "the card", upheld=True, changes=(change,), basis={})
    outcome = book.ask_now(HEAD_JUDGE, decided, key="decide")
    book.ask_now(JUDGE, ask.report_score(report("w2-1", "T1", 1_000)), key="later")
    book.close()
    book = open_book(tmp_path / "day.book")
    # Any entry of the request tells the same: the correction came first, the decision last.
    for seq in outcome.seqs:
        before, after = book.around(seq)
        assert before.appeals["1"].open
        assert not after.appeals["1"].open
        told = effect(before, after, appeal_text(book.state, 1).appeal)
        assert [(row.team, row.place_before, row.place_after) for row in told.overall] == [
            ("T4", 4, 2),
            ("T2", 2, 3),
            ("T3", 3, 4),
        ]
    with pytest.raises(NotFound):
        book.around(10_000)
    book.close()
