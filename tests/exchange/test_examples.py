"""The events kept as examples are sound, and the smallest can be planned as it is wished."""

from pathlib import Path

import pytest

from callroom.exchange import read_event, read_teams
from callroom.model import Event, Team
from callroom.model.checking import check_event, check_teams
from callroom.planner import Limits, PlanRequest, plan_day
from callroom.planner.event_days import days_of
from callroom.planner.solve import solve
from callroom.planner.why_not import plain_reasons

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = sorted(folder.name for folder in EXAMPLES.iterdir() if folder.is_dir())


def event_of(name: str) -> Event:
    return read_event((EXAMPLES / name / "event.toml").read_bytes())


def teams_of(name: str, event: Event) -> tuple[Team, ...]:
    return read_teams((EXAMPLES / name / "teams.csv").read_bytes(), event).teams


@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_sound_and_said_to_be_invented(name: str) -> None:
    event = event_of(name)
    assert check_event(event) == ()
    assert event.invented


def test_the_teams_of_the_scarce_day_fit_it() -> None:
    event = event_of("scarce-judges")
    teams = teams_of("scarce-judges", event)
    assert len(teams) == 120
    assert check_teams(event, teams, ()) == ()
    assert plain_reasons(event, teams) == ()


def test_the_example_of_two_days_has_two() -> None:
    first, second = days_of(event_of("two-days"))
    assert [w.id for w in first.workouts] == ["w1", "w2", "w3"]
    assert second.wishes.order_into("w4") == "reseeded"


def test_the_smallest_example_is_planned_with_all_it_wishes() -> None:
    event = event_of("twelve-teams")
    teams = teams_of("twelve-teams", event)
    reply = plan_day(PlanRequest(event=event, teams=teams, limits=Limits(work=3)), solve)
    assert reply.plan is not None
    assert {finding.severity for finding in reply.findings} == {"note"}
    assert reply.plan.finish_s <= (event.wishes.finish_by_s or 0)
