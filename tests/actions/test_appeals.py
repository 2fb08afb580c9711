"""Appeals: filed in time, decided once, with what they change stored beside the decision."""

from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions.preview import preview
from callroom.actions.verdicts import (
    decide_appeal,
    make_appeal,
    release_podium,
    set_embargo,
    withdraw_appeal,
)
from callroom.journal.entries import bodies
from callroom.model import Actor, NotAllowed, Refusal, Result
from tests.actions.day_building import DIRECTOR, EVENT, HEAD_JUDGE, JUDGE, Day, loaded_day, report

DESK = Actor(role="desk", device="laptop", name="desk")
MINUTE_MS = 60_000


def posted_day(**rules: Any) -> Day:
    """A day whose standings were posted a moment ago."""
    day = loaded_day()
    if rules:
        day.tell(
            DIRECTOR, bodies.EventSet(event=replace(EVENT, rules=replace(EVENT.rules, **rules)))
        )
    day.tell(JUDGE, report("w1-1", "T1", 300_000))
    day.ask(HEAD_JUDGE, ask.post_standings("pairs"))
    return day


def appeal(day: Day, *, text: str = "Added up wrong.", team: str = "T1", **more: Any) -> None:
    given: dict[str, Any] = {"ground": "arithmetic", "handed_in_ms": day.at_ms} | more
    day.ask(DESK, make_appeal(team, text, **given))


def refused(day: Day, **more: Any) -> Refusal:
    with pytest.raises(Refusal) as refusal:
        appeal(day, **more)
    return refusal.value


def test_an_appeal_in_the_last_millisecond_is_heard_and_one_after_it_is_not() -> None:
    day = posted_day()
    over_ms = day.at_ms + EVENT.rules.appeal_window_s * 1000
    day.at_ms = over_ms + 5 * MINUTE_MS
    appeal(day, handed_in_ms=over_ms, workout="w1", part="a")
    first = day.state.appeals["1"]
    assert (first.open, first.late, first.at_ms) == (True, False, day.at_ms)
    refusal = refused(day, handed_in_ms=over_ms + 1)
    assert (refusal.rule, refusal.facts["late_s"]) == ("appeal.late", 1)


def test_a_late_one_is_marked_where_the_rules_say_so() -> None:
    day = posted_day(late_appeals="marked")
    day.at_ms += EVENT.rules.appeal_window_s * 1000 + 1
    appeal(day)
    assert day.state.appeals["1"].late


def test_before_any_posting_and_after_a_new_one_the_time_is_not_over() -> None:
    day = loaded_day()
    appeal(day)
    day.ask(HEAD_JUDGE, ask.post_standings("pairs"))
    day.at_ms += 16 * MINUTE_MS
    assert refused(day).rule == "appeal.late"
    day.ask(HEAD_JUDGE, ask.post_standings("pairs"))
    appeal(day)
    assert len(day.state.appeals) == 2


def test_a_final_posting_ends_the_time_at_once() -> None:
    day = posted_day()
    for heat in ("w1-1", "w1-2", "w2-1", "w2-2"):
        day.tell(HEAD_JUDGE, bodies.HeatConfirmed(heat=heat))
    day.ask(HEAD_JUDGE, ask.post_standings("pairs", final=True))
    day.at_ms += 1
    assert refused(day).rule == "appeal.late"


@pytest.mark.parametrize(
    ("more", "rule"),
    [
        ({"text": "  "}, "appeal.says_nothing"),
        ({"team": "T9"}, "team.unknown"),
        ({"workout": "w1", "part": "z"}, "part.unknown"),
        ({"part": "a"}, "part.unknown"),
        ({"handed_in_ms": 10**15}, "appeal.from_the_future"),
    ],
)
def test_what_cannot_be_heard_is_refused(more: dict[str, Any], rule: str) -> None:
    assert refused(posted_day(), **more).rule == rule


def test_a_decision_stands_with_what_it_changes_or_not_at_all() -> None:
    day = posted_day()
    appeal(day, workout="w1", part="a")
    right = Result(outcome="finished", time_ms=290_000)
    change = bodies.ScoreCorrected(
        workout="w1", part="a", team="T1", attempt=1, result=right, reason=" "
    )
    request = decide_appeal(1, "the card says 4:50", upheld=True, changes=(change,), basis={})
    with pytest.raises(Refusal):  # the correction lacks its reason, so nothing is stored
        day.ask(HEAD_JUDGE, request)
    assert day.state.appeals["1"].open
    change = replace(change, reason="appeal 1")
    request = decide_appeal(1, "the card says 4:50", upheld=True, changes=(change,), basis={})
    before = day.state
    after = preview(before, HEAD_JUDGE, request, day.at_ms)
    assert day.state is before
    assert after.sheets["w1/a/T1/1"].counting == right
    day.ask(HEAD_JUDGE, request)
    assert day.state.sheets["w1/a/T1/1"].counting == right
    decision = day.state.appeals["1"].decision
    assert decision is not None
    assert (decision.upheld, decision.reason) == (True, "the card says 4:50")
    with pytest.raises(Refusal) as again:
        day.ask(HEAD_JUDGE, request)
    assert again.value.rule == "appeal.closed"


def test_a_team_takes_its_appeal_back_once() -> None:
    day = posted_day()
    appeal(day)
    day.ask(DESK, withdraw_appeal(1))
    assert not day.state.appeals["1"].open
    with pytest.raises(Refusal):
        day.ask(DESK, withdraw_appeal(1))


def test_standings_are_not_final_with_an_appeal_open() -> None:
    day = posted_day()
    appeal(day)
    for heat in ("w1-1", "w1-2", "w2-1", "w2-2"):
        day.tell(HEAD_JUDGE, bodies.HeatConfirmed(heat=heat))
    with pytest.raises(Refusal) as refusal:
        day.ask(HEAD_JUDGE, ask.post_standings("pairs", final=True))
    assert refusal.value.rule == "standings.appeals_open"
    day.ask(HEAD_JUDGE, decide_appeal(1, "no fault found", upheld=False, basis={}))
    day.ask(HEAD_JUDGE, ask.post_standings("pairs", final=True))
    assert day.state.postings["pairs"].final


def test_who_may_do_what() -> None:
    day = posted_day()
    with pytest.raises(NotAllowed):
        day.ask(JUDGE, make_appeal("T1", "x", ground="lane", handed_in_ms=day.at_ms))
    appeal(day)
    for actor, request in (
        (DESK, decide_appeal(1, "no", upheld=False, basis={})),
        (DESK, release_podium("pairs", "no time left", {})),
        (HEAD_JUDGE, set_embargo("w2", hidden=True)),
    ):
        with pytest.raises(NotAllowed):
            day.ask(actor, request)


def test_a_podium_is_let_out_with_a_reason() -> None:
    day = posted_day()
    with pytest.raises(Refusal):
        day.ask(HEAD_JUDGE, release_podium("pairs", " ", {}))
    with pytest.raises(Refusal):
        day.ask(HEAD_JUDGE, release_podium("nobody", "no time", {}))
    day.ask(HEAD_JUDGE, release_podium("pairs", "no time", {}))
    assert day.state.podiums["pairs"].reason == "no time"
