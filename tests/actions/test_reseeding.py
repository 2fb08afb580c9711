"""Seeding from results: proposed when the workout before is confirmed, and accepted as shown."""

import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions.reseeding import accept_reseeding, reseeding, reseedings
from callroom.journal.entries import bodies
from callroom.model import NotAllowed, Refusal, Stale
from callroom.model.wish_rows import OrderInto
from tests.actions.day_building import DIRECTOR, EVENT, HEAD_JUDGE, JUDGE, Day, loaded_day, report

TIMES = {"T1": 300_000, "T2": 400_000, "T3": 250_000, "T4": 500_000}


def over(confirm: bool = True, order: str = "reseeded") -> Day:
    """A day after its first workout: T3 won, then T1, T2, T4."""
    day = loaded_day()
    wishes = replace(EVENT.wishes, orders=(OrderInto(workout="w2", order=order),))  # type: ignore[arg-type]
    day.tell(DIRECTOR, bodies.EventSet(event=replace(EVENT, wishes=wishes)))
    for heat in ("w1-1", "w1-2"):
        assert day.state.plan is not None
        for team in day.state.plan.heat(heat).teams:
            day.tell(JUDGE, report(heat, team, TIMES[team]))
        if confirm:
            day.ask(HEAD_JUDGE, ask.confirm_heat(heat, {}))
    return day


def teams(day: Day, heat: str) -> set[str]:
    assert day.state.plan is not None
    return set(day.state.plan.heat(heat).teams)


def test_the_best_go_into_the_last_heat_once_the_director_accepts() -> None:
    day = over()
    (proposed,) = reseedings(day.state)
    assert proposed.ready
    assert proposed.ranked == ("T3", "T1", "T2", "T4")
    before = day.state.plan
    day.ask(DIRECTOR, accept_reseeding(day.state, proposed))
    assert teams(day, "w2-2") == {"T3", "T1"}
    assert teams(day, "w2-1") == {"T2", "T4"}
    assert day.state.plan is not None
    assert day.state.plan.revision == 2
    assert day.state.repairs["2"].before == before
    assert not reseedings(day.state)[0].ready


def test_before_the_workout_is_confirmed_it_waits() -> None:
    day = over(confirm=False)
    (proposed,) = reseedings(day.state)
    assert not proposed.ready
    assert proposed.awaited == (("w1", "a"),)
    with pytest.raises(Refusal) as refusal:
        day.ask(DIRECTOR, accept_reseeding(day.state, proposed))
    assert refusal.value.rule == "seeding.awaited"


def test_what_changed_since_it_was_shown_is_not_published() -> None:
    day = over()
    (proposed,) = reseedings(day.state)
    day.ask(HEAD_JUDGE, ask.withdraw_team("T1", "left"))
    with pytest.raises(Stale) as refusal:
        day.ask(DIRECTOR, accept_reseeding(day.state, proposed))
    assert refusal.value.rule == "seeding.other_standings"


def test_a_team_that_left_makes_room() -> None:
    day = over()
    day.ask(HEAD_JUDGE, ask.withdraw_team("T3", "left"))
    (proposed,) = reseedings(day.state)
    assert proposed.ranked == ("T1", "T2", "T4")
    day.ask(DIRECTOR, accept_reseeding(day.state, proposed))
    assert teams(day, "w2-1") | teams(day, "w2-2") == {"T1", "T2", "T4"}
    assert "T1" in teams(day, "w2-2")


def test_a_called_heat_is_left_alone() -> None:
    day = over()
    day.ask(DIRECTOR, ask.call_heat("w2-1"))
    proposed = reseeding(day.state, "w2", "pairs")
    assert proposed.begun == ("w2-1",)
    with pytest.raises(Refusal) as refusal:
        day.ask(DIRECTOR, accept_reseeding(day.state, proposed))
    assert refusal.value.rule == "seeding.too_late"


def test_what_the_event_wants_kept_is_not_proposed_and_the_first_workout_never() -> None:
    assert reseedings(over(order="kept").state) == ()
    assert [one.workout for one in reseedings(over().state)] == ["w2"]


def test_only_the_director_accepts() -> None:
    day = over()
    (proposed,) = reseedings(day.state)
    with pytest.raises(NotAllowed):
        day.ask(HEAD_JUDGE, accept_reseeding(day.state, proposed))
