"""Small competitions worked by hand, with the working beside them in the case files."""

from pathlib import Path
from typing import Any

import pytest

from callroom.model import State
from callroom.scoring import (
    DivisionStandings,
    all_standings,
    called,
    overall_reasons,
    part_reasons,
    points_text,
)
from callroom.views.sentences import reasons_text
from tests.scoring.casebook import case_files, read_case, state_of

EXPECTED = [
    (path, index) for path in case_files() for index in range(len(read_case(path)["expect"]))
]


@pytest.mark.parametrize(
    ("path", "index"), EXPECTED, ids=[f"{path.stem}-{index}" for path, index in EXPECTED]
)
def test_a_case_comes_out_as_worked_by_hand(path: Path, index: int) -> None:
    case = read_case(path)
    expected = case["expect"][index]
    state = state_of(case, expected.get("rules"))
    standings = {each.division: each for each in all_standings(state)}

    found: dict[str, Any] = {}
    if "places" in expected:
        found["places"] = places(standings, expected["places"])
    if "overall" in expected:
        found["overall"] = overall(standings)
    if "awaited" in expected:
        found["awaited"] = " ".join(
            team for each in standings.values() for part in each.parts for team in part.awaited
        )
    if "confirmed" in expected:
        found["confirmed"] = all(each.confirmed for each in standings.values())
    if "reasons" in expected:
        found["reasons"] = reasons(state, standings, expected["reasons"])
    assert found == {name: value for name, value in expected.items() if name != "rules"}


def places(
    standings: dict[str, DivisionStandings], expected: dict[str, dict[str, Any]]
) -> dict[str, dict[str, dict[str, int | str]]]:
    return {
        workout: {
            part: {
                row.team: row.place or "-"
                for each in standings.values()
                for row in each.part(workout, part).rows
            }
            for part in parts
        }
        for workout, parts in expected.items()
    }


def overall(standings: dict[str, DivisionStandings]) -> dict[str, str]:
    return {
        row.team: f"{row.place or '-'}: {points_text(row.points)}"
        for each in standings.values()
        for row in each.rows
    }


def reasons(
    state: State, standings: dict[str, DivisionStandings], expected: dict[str, Any]
) -> dict[str, Any]:
    """The sentences for the teams and parts that the case asks about."""
    assert state.event is not None
    names = called(state)
    said: dict[str, Any] = {}
    for team in expected.get("overall", {}):
        mine = standings[state.teams[team].division]
        said.setdefault("overall", {})[team] = reasons_text(overall_reasons(mine, team, names))
    for workout, parts in expected.items():
        for part, teams in parts.items() if workout != "overall" else ():
            for team in teams:
                ranked = standings[state.teams[team].division].part(workout, part)
                told = part_reasons(ranked, state.event.workout(workout).part(part), team, names)
                said.setdefault(workout, {}).setdefault(part, {})[team] = reasons_text(told)
    return said
