"""Reports are always kept, decisions are refused by rules, and nothing moves by itself."""

import pytest

from callroom.actions import day as ask
from callroom.model import NotAllowed, Refusal, Result, SheetRef, Stale
from tests.actions.day_building import DIRECTOR, HEAD_JUDGE, JUDGE, Day, loaded_day, report

T1 = SheetRef(workout="w1", part="a", team="T1")


@pytest.fixture
def day() -> Day:
    return loaded_day()


def score_first_heat(day: Day) -> None:
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)))
    day.ask(JUDGE, ask.report_score(report("w1-1", "T2", 310_000)))


def test_the_first_report_counts_provisionally(day: Day) -> None:
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)))
    sheet = day.state.sheets[T1.key]
    assert sheet.counting == Result(outcome="finished", time_ms=300_000)
    assert sheet.confirmed_seq is None
    assert not sheet.disputed


def test_a_differing_report_bars_confirmation_until_one_is_chosen(day: Day) -> None:
    score_first_heat(day)
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 299_000, source="paper")))
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
    assert refused.value.rule == "heat.not_ready"
    assert refused.value.facts["disputed"] == "2"
    paper = day.state.sheets[T1.key].reports[1].seq
    day.ask(HEAD_JUDGE, ask.choose_report(T1, paper, {}))
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
    assert day.state.sheets[T1.key].counting == Result(outcome="finished", time_ms=299_000)
    assert day.state.heat_run("w1-1").stage == "confirmed"


def test_an_agreeing_paper_is_a_second_source_and_no_dispute(day: Day) -> None:
    score_first_heat(day)
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000, source="paper")))
    assert len(day.state.sheets[T1.key].reports) == 2
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))


def test_a_heat_with_a_lane_missing_is_not_confirmed(day: Day) -> None:
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)))
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
    assert refused.value.facts["missing"] == "3"


def test_both_parts_of_a_two_part_workout_are_awaited(day: Day) -> None:
    day.ask(JUDGE, ask.report_score(report("w2-1", "T1", 300_000)))
    day.ask(JUDGE, ask.report_score(report("w2-1", "T2", 300_000)))
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, ask.confirm_heat("w2-1", {}))
    assert refused.value.facts["missing"] == "2 (b), 3 (b)"


def test_a_withdrawn_team_is_not_waited_for(day: Day) -> None:
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)))
    day.ask(HEAD_JUDGE, ask.withdraw_team("T2", "hurt at warm-up"))
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))


def test_a_report_after_confirmation_changes_nothing_until_it_is_taken(day: Day) -> None:
    score_first_heat(day)
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
    late = report("w1-1", "T1", 280_000, source="paper")
    day.ask(JUDGE, ask.report_score(late))
    (kept,) = day.state.unplaced.values()
    assert kept.unplaced == "heat_confirmed"
    assert day.state.sheets[T1.key].counting == Result(outcome="finished", time_ms=300_000)
    day.ask(HEAD_JUDGE, ask.take_report(kept.seq, late, "the card was under the bench"))
    assert day.state.sheets[T1.key].counting == Result(outcome="finished", time_ms=280_000)
    assert not day.state.unplaced


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"lane": 4}, "lane_moved"),
        ({"heat": "w1-2"}, "lane_moved"),
        ({"heat": "w9-9"}, "lane_moved"),
        ({"part": "z"}, "unknown"),
        ({"team": "T9"}, "unknown"),
        ({"attempt": 2}, "no_such_attempt"),
    ],
)
def test_a_report_that_fits_nowhere_is_kept_unplaced(
    day: Day, changed: dict[str, object], why: str
) -> None:
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000, **changed)))
    (kept,) = day.state.unplaced.values()
    assert kept.unplaced == why
    assert not day.state.sheets


def test_a_revoked_device_is_still_heard_but_counts_for_nothing(day: Day) -> None:
    day.ask(DIRECTOR, ask.join_device("phone", "judge"))
    day.ask(DIRECTOR, ask.revoke_device("phone"))
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)))
    (kept,) = day.state.unplaced.values()
    assert kept.unplaced == "device_revoked"


def test_a_revoked_device_decides_nothing(day: Day) -> None:
    day.ask(DIRECTOR, ask.join_device("tablet", "head_judge"))
    day.ask(DIRECTOR, ask.revoke_device("tablet"))
    with pytest.raises(NotAllowed):
        day.ask(HEAD_JUDGE, ask.withdraw_team("T2", ""))


def test_a_judge_confirms_nothing(day: Day) -> None:
    score_first_heat(day)
    with pytest.raises(NotAllowed):
        day.ask(JUDGE, ask.confirm_heat("w1-1", {}))


def test_a_decision_on_an_old_page_is_refused(day: Day) -> None:
    score_first_heat(day)
    basis = {f"sheet:{T1.key}": day.state.subjects[f"sheet:{T1.key}"]}
    day.ask(HEAD_JUDGE, ask.give_penalty(T1, "stepped over the line", seconds=10))
    with pytest.raises(Stale):
        day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", basis))


def test_a_rerun_opens_a_second_attempt(day: Day) -> None:
    score_first_heat(day)
    day.ask(HEAD_JUDGE, ask.grant_rerun("w1", "T1", "better", "a plate slid off"))
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 250_000, attempt=2)))
    again = SheetRef(workout="w1", part="a", team="T1", attempt=2)
    assert day.state.sheets[again.key].counting == Result(outcome="finished", time_ms=250_000)


def test_a_penalty_needs_a_reason_and_takes_something(day: Day) -> None:
    with pytest.raises(Refusal, match="no_reason"):
        day.ask(HEAD_JUDGE, ask.give_penalty(T1, " ", seconds=10))
    with pytest.raises(Refusal, match="empty"):
        day.ask(HEAD_JUDGE, ask.give_penalty(T1, "why not"))
    with pytest.raises(Refusal, match="empty"):
        day.ask(HEAD_JUDGE, ask.give_penalty(T1, "a gift", seconds=-5))


def test_a_reopened_heat_takes_reports_again(day: Day) -> None:
    score_first_heat(day)
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
    day.ask(HEAD_JUDGE, ask.reopen_heat("w1-1", "wrong card"))
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 290_000, source="paper")))
    assert day.state.sheets[T1.key].disputed


def test_final_standings_wait_for_every_heat(day: Day) -> None:
    score_first_heat(day)
    day.ask(HEAD_JUDGE, ask.post_standings("pairs"))
    with pytest.raises(Refusal, match="not_ready"):
        day.ask(HEAD_JUDGE, ask.post_standings("pairs", final=True))


def test_a_card_that_could_not_be_read_waits_for_a_complete_report(day: Day) -> None:
    unread = report("w1-1", "T1", 0, source="paper", result=Result(outcome="unknown"))
    day.ask(JUDGE, ask.report_score(unread))
    day.ask(JUDGE, ask.report_score(report("w1-1", "T2", 310_000)))
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
    assert refused.value.facts["missing"] == "2"
    day.ask(JUDGE, ask.report_score(report("w1-1", "T1", 300_000)))
    sheet = day.state.sheets[T1.key]
    assert sheet.counting == Result(outcome="finished", time_ms=300_000)
    assert not sheet.disputed
    day.ask(HEAD_JUDGE, ask.confirm_heat("w1-1", {}))
