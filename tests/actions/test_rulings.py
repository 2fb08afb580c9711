"""Rulings get a number, are taken back with a reason, and are news until they were read."""

import msgspec
import pytest

from callroom.actions import day as ask
from callroom.actions.request import Request
from callroom.model import Actor, NotAllowed, Refusal
from callroom.views.rulings import rulings, rulings_heard, unseen_rulings
from callroom.views.timetable import Audience
from tests.actions.day_building import HEAD_JUDGE, JUDGE, Day, loaded_day


def ruled_day() -> Day:
    day = loaded_day()
    day.ask(
        Actor(role="director", device="cli", name="director"), ask.join_device("phone", "judge")
    )
    day.ask(HEAD_JUDGE, ask.make_ruling("May we swap sides?", "Yes.", workout="w1"))
    day.ask(HEAD_JUDGE, ask.make_ruling("Chalk?", "Bring your own."))
    return day


def unseen(day: Day, device: str = "phone") -> list[int]:
    return [ruling.number for ruling in unseen_rulings(day.state, device)]


def test_rulings_are_numbered_in_the_order_they_are_made() -> None:
    assert [ruling.number for ruling in rulings(ruled_day().state)] == [1, 2]


def test_a_ruling_is_news_until_it_was_read_and_again_when_it_is_taken_back() -> None:
    day = ruled_day()
    first = day.state.rulings["1"]
    assert unseen(day) == [1, 2]
    day.ask(JUDGE, ask.acknowledge_ruling(1, first.news_seq))
    assert unseen(day) == [2]
    day.ask(HEAD_JUDGE, ask.withdraw_ruling(1, "misheard"))
    assert unseen(day) == [1, 2]
    # A phone that was away sends its old acknowledgement once more: it has not read the news.
    day.ask(JUDGE, ask.acknowledge_ruling(1, first.news_seq))
    assert unseen(day) == [1, 2]
    day.ask(JUDGE, ask.acknowledge_ruling(1, day.state.rulings["1"].news_seq))
    assert unseen(day) == [2]


def test_who_never_saw_a_ruling_is_not_told_that_it_was_taken_back() -> None:
    day = ruled_day()
    day.ask(HEAD_JUDGE, ask.withdraw_ruling(2, "the hall has chalk"))
    assert unseen(day) == [1]
    assert [ruling.withdrawn for ruling in rulings(day.state)] == [False, True]


def test_an_acknowledgement_of_nothing_counts_for_nothing() -> None:
    day = ruled_day()
    day.ask(JUDGE, ask.acknowledge_ruling(9, 10**6))
    assert day.state.acknowledged == {}


def test_the_head_judge_sees_who_has_yet_to_read_it_before_which_heat() -> None:
    day = ruled_day()
    day.ask(HEAD_JUDGE, ask.make_ruling("Grip?", "Any.", workout="w2"))
    day.ask(JUDGE, ask.acknowledge_ruling(1, day.state.rulings["1"].news_seq))
    told = {one.text.number: one for one in rulings_heard(day.state)}
    assert (told[1].seen, told[1].unseen) == (("phone",), ())
    assert (told[2].seen, told[2].unseen) == ((), ("phone",))
    assert [one.before.id for one in told.values() if one.before] == ["w2-1", "w1-1", "w1-1"]


def test_only_the_head_judge_rules() -> None:
    with pytest.raises(NotAllowed):
        loaded_day().ask(JUDGE, ask.make_ruling("May we?", "Yes."))


@pytest.mark.parametrize(
    ("rule", "request_"),
    [
        ("ruling.incomplete", ask.make_ruling(" ", "Yes.")),
        ("ruling.incomplete", ask.make_ruling("May we?", "")),
        ("workout.unknown", ask.make_ruling("May we?", "Yes.", workout="w9")),
        ("ruling.movement_unknown", ask.make_ruling("May we?", "Yes.", movement="deadlift")),
        ("ruling.not_in_force", ask.withdraw_ruling(3, "why")),
        ("decision.no_reason", ask.withdraw_ruling(1, " ")),
    ],
)
def test_what_makes_no_ruling_is_refused(rule: str, request_: Request) -> None:
    with pytest.raises(Refusal) as refused:
        ruled_day().ask(HEAD_JUDGE, request_)
    assert refused.value.rule == rule


def test_a_ruling_about_hidden_work_is_hidden() -> None:
    day = ruled_day()
    day.ask(HEAD_JUDGE, ask.make_ruling("Depth?", "Below the knee.", movement="air_squat"))
    event = day.state.event
    assert event is not None
    hidden = tuple(msgspec.structs.replace(one, release_s=3600) for one in event.workouts)
    state = msgspec.structs.replace(
        day.state, event=msgspec.structs.replace(event, workouts=hidden)
    )
    for now_s, seen in ((3599, [2]), (3600, [1, 2, 3])):
        audience = Audience(public=True, now_s=now_s)
        assert [ruling.number for ruling in rulings(state, audience)] == seen
