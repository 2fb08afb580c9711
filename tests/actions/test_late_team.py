"""A team that came late gets free lanes, moves nobody, and misses what has begun."""

from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions.entering import enter_by_hand
from callroom.actions.late_team import give_lanes, late_lanes
from callroom.journal.entries import bodies
from callroom.model import Floor, milliseconds
from tests.actions.day_building import DIRECTOR, EVENT, Day, loaded_day, team

START_MS = milliseconds(EVENT.starts_at)
LATE = replace(team(9), id="L1", name="Late")


def day_with_late(lanes: int = 4) -> Day:
    made = loaded_day()
    floor = Floor(id="main", name="Main floor", lanes=lanes)
    made.tell(DIRECTOR, bodies.EventSet(event=replace(EVENT, floors=(floor,))))
    made.at_ms = START_MS - 3_600_000
    made.ask(DIRECTOR, enter_by_hand(LATE, {}))
    return made


def test_a_late_team_gets_the_first_free_lanes_and_nobody_else_moves() -> None:
    made = day_with_late()
    before = made.state.plan
    assert before is not None
    found = late_lanes(made.state, "L1", made.at_ms)
    assert found is not None
    assert [(heat.workout, heat.lane_of("L1")) for heat in found.heats] == [("w1", 1), ("w2", 1)]
    made.ask(DIRECTOR, give_lanes(made.state, found, "a team that came late"))
    after = made.state.plan
    assert after is not None
    assert after.revision == before.revision + 1
    for heat in before.heats:
        assert set(heat.lanes) <= set(after.heat(heat.id).lanes)
    assert late_lanes(made.state, "L1", made.at_ms) is None


def test_what_has_begun_is_missed() -> None:
    made = day_with_late()
    for heat in ("w1-1", "w1-2"):
        made.ask(DIRECTOR, ask.call_heat(heat))
        made.tell(DIRECTOR, bodies.HeatStarted(heat=heat, at_ms=START_MS))
    made.at_ms = START_MS + 1_300_000
    found = late_lanes(made.state, "L1", made.at_ms)
    assert found is not None
    assert [heat.workout for heat in found.heats] == ["w2"]
    assert found.missed == ("w1",)


def test_without_a_free_lane_there_is_none_until_a_team_withdraws() -> None:
    made = day_with_late(lanes=3)
    plan = made.state.plan
    assert plan is not None
    full = replace(
        made.state, event=replace(EVENT, floors=(replace(EVENT.floors[0], held_lanes=(1, 4)),))
    )
    assert late_lanes(full, "L1", made.at_ms) is None
    made.ask(DIRECTOR, ask.withdraw_team("T1", "ill"))
    gone = replace(full, team_status=made.state.team_status)
    found = late_lanes(gone, "L1", made.at_ms)
    assert found is not None
    lanes = [heat.lane_of("L1") for heat in found.heats]
    assert lanes == [plan.heat("w1-1").lane_of("T1"), plan.heat("w2-1").lane_of("T1")]


def test_a_team_that_left_or_is_planned_is_given_nothing() -> None:
    made = day_with_late()
    assert late_lanes(made.state, "T1", made.at_ms) is None
    made.ask(DIRECTOR, ask.withdraw_team("L1", "did not stay"))
    assert late_lanes(made.state, "L1", made.at_ms) is None
    assert late_lanes(made.state, "nobody", made.at_ms) is None
