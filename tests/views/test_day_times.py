"""When heats are to be expected, from what the book says has happened."""

from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.model import Loss, State, milliseconds
from callroom.views.board import board
from callroom.views.day_times import NO_TIMES, DayTimes, day_times
from callroom.views.floor_desk import floor_desk
from tests.actions.day_building import EVENT, HEAD_JUDGE, Day, loaded_day

START_MS = milliseconds(EVENT.starts_at)
# Heats: w1-1 at 0, w1-2 at 1200, w2-1 at 3600, w2-2 at 4800; each holds the floor for 790 s,
# of which the walk-on is 60, the countdown 10, the clock 600, the cards 60, the kit 60.


def at(day: Day, now_s: int) -> DayTimes:
    return day_times(day.state, now_s)


def begun_late(late_s: int) -> Day:
    day = loaded_day()
    day.ask(HEAD_JUDGE, ask.call_heat("w1-1"))
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + (late_s + 70) * 1000))
    return day


def test_without_a_time_or_a_plan_nothing_is_foretold() -> None:
    assert day_times(loaded_day().state, None) == NO_TIMES
    assert day_times(State(), 0) == NO_TIMES


def test_nobody_is_late_before_anybody_works_the_board() -> None:
    times = at(loaded_day(), 5000)
    assert set(times.late_s.values()) == {0}
    assert all(time.late_s == 0 for time in times.heats.values())


def test_a_start_tells_when_the_walk_on_was() -> None:
    times = at(begun_late(700), 1000)
    assert times.heats["w1-1"].start_s == 720
    # It leaves the floor at 1490; the changeover after it is as long as the plan leaves.
    assert times.heats["w1-2"].late_s > 0
    assert times.late_start_s("w1-2") == times.heats["w1-2"].start_s
    assert times.late_s == {"main": times.heats["w1-2"].late_s}
    assert times.late_start_s("w2-1") is None


def test_walking_on_is_begun_and_the_clock_says_more() -> None:
    day = loaded_day()
    day.at_ms = START_MS + 300_000
    day.ask(HEAD_JUDGE, ask.send_on_floor("w1-1"))
    assert at(day, 300).heats["w1-1"].start_s == 300
    # It is late and has begun: nobody waits for it any more.
    assert at(day, 300).late_start_s("w1-1") is None
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + 970_000))
    assert at(day, 1000).heats["w1-1"].start_s == 900


def test_times_are_whole_minutes_and_a_few_seconds_are_no_news() -> None:
    times = at(begun_late(59), 100)
    assert times.heats["w1-1"].late_s == 0
    assert all(time.start_s % 60 == 0 for time in at(begun_late(777), 1000).heats.values())


def test_a_heat_whose_teams_all_left_holds_nobody_up() -> None:
    day = begun_late(0)
    for team in ("T3", "T4"):
        day.ask(HEAD_JUDGE, ask.withdraw_team(team, "gone home"))
    day.ask(HEAD_JUDGE, ask.finish_heat("w1-1"))
    times = at(day, 3700)
    assert set(times.heats) == {"w1-1", "w2-1"}
    assert times.heats["w2-1"].start_s == 3720


def test_a_forecast_shortens_the_wait_behind_a_late_heat() -> None:
    day = begun_late(700)
    planned = day_times(day.state, 1000).heats["w1-2"].start_s
    lengths = {("w1", "pairs"): 600}
    assert day_times(day.state, 1000, lengths).heats["w1-2"].start_s < planned
    assert day_times(day.state, 1000, {("w2", "pairs"): 600}).heats["w1-2"].start_s == planned


def test_a_board_left_behind_does_not_run_days_late() -> None:
    day = begun_late(0)
    assert at(day, 40 * 3600).late_s == {"main": 0}


def test_the_board_and_the_floor_desk_say_it() -> None:
    day = begun_late(700)
    times = at(day, 1000)
    shown = board(day.state, times=times)
    assert [heat.expected_s for heat in shown.next] == [times.heats["w1-2"].start_s, None]
    desk = floor_desk(day.state, "main", times=times)
    assert desk.floor.late_s == times.late_s["main"]
    assert [heat.slot.id for heat in desk.on_floor] == ["w1-1"]
    assert [heat.slot.id for heat in desk.next] == ["w1-2", "w2-1", "w2-2"]


def test_a_heat_that_ended_is_awaited_until_its_scores_are_in() -> None:
    day = begun_late(0)
    day.ask(HEAD_JUDGE, ask.finish_heat("w1-1"))
    assert [heat.slot.id for heat in floor_desk(day.state, "main").awaited] == ["w1-1"]


def test_a_floor_that_is_out_holds_everybody_up_before_any_plan_is_mended() -> None:
    day = begun_late(0)
    day.ask(HEAD_JUDGE, ask.finish_heat("w1-1"))
    loss = Loss(number=1, seq=1, at_ms=0, kind="floor", floor="main", ready_s=2400)
    out = day_times(replace(day.state, losses={"1": loss}), 900)
    assert out.heats["w1-2"].start_s == 2400
    again = replace(loss, over=True)
    assert day_times(replace(day.state, losses={"1": again}), 900).heats["w1-2"].late_s == 0
