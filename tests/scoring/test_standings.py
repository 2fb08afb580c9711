"""The faces of the standings, and that the cases have told every reason there is."""

import pytest
from msgspec.structs import replace

from callroom.model import NotFound, State, Team
from callroom.scoring import (
    RULES,
    Called,
    all_standings,
    called,
    division_standings,
    load_text,
    overall_reasons,
    part_reasons,
    part_standings,
    short_handed,
)
from tests.scoring.casebook import case_files, read_case, result, state_of

CASE = {
    "teams": {"fours": "Ash Birch", "pairs": "Elm"},
    "workouts": [{"id": "w1", "kind": "work"}],
    "scores": {"w1": {"a": {"Ash": "5", "Birch": "9", "Elm": "7"}}},
}
STATE = state_of(CASE)


def test_one_division_is_the_same_alone_as_among_all() -> None:
    assert all_standings(STATE) == (
        division_standings(STATE, "fours"),
        division_standings(STATE, "pairs"),
    )
    part = part_standings(STATE, "w1", "a", "fours")
    assert part == division_standings(STATE, "fours").part("w1", "a")
    assert [row.team for row in part.rows] == ["Birch", "Ash"]


@pytest.mark.parametrize(
    ("workout", "part", "division"), [("w1", "b", "fours"), ("w9", "a", "fours"), ("w1", "a", "x")]
)
def test_what_the_event_does_not_have_is_not_found(workout: str, part: str, division: str) -> None:
    with pytest.raises(NotFound):
        part_standings(STATE, workout, part, division)


def test_a_book_without_an_event_has_no_standings() -> None:
    with pytest.raises(NotFound):
        all_standings(State())


def test_a_team_that_is_not_there_has_no_row() -> None:
    standings = division_standings(STATE, "fours")
    for table in (standings, standings.parts[0]):
        with pytest.raises(KeyError):
            table.row("Elm")


def test_a_division_without_teams_is_never_complete() -> None:
    standings = division_standings(replace(STATE, teams={}, sheets={}), "fours")
    assert (standings.rows, standings.counted, standings.confirmed) == ((), (), False)


def test_reports_of_an_unknown_team_or_part_change_nothing() -> None:
    scores = {"w1": {"z": {"Ash": "9"}, "a": {"X": "50"}}}
    strange = state_of({**CASE, "scores": scores}).sheets
    gone = replace(STATE, sheets={**STATE.sheets, **strange})
    assert len(gone.sheets) == len(STATE.sheets) + 2
    assert all_standings(gone) == all_standings(STATE)


def test_a_team_without_a_line_up_is_not_short_handed() -> None:
    state = state_of({**CASE, "team_size": 4, "short_handed": "Ash"})
    assert state.event is not None
    division = state.event.divisions[0]
    assert short_handed(division, state.teams["Ash"])
    assert not short_handed(division, state.teams["Birch"])
    assert not short_handed(division, Team(id="X", name="X", division="fours"))


def test_loads_are_said_as_they_were_loaded() -> None:
    lifts = result("a:100kg b:22.50kg c:225lb").lifts
    assert load_text([lift.mass for lift in lifts]) == "122.5 kg + 225 lb"
    assert load_text([]) == ""


def test_what_has_no_name_is_called_by_its_id() -> None:
    nameless = Called()
    assert nameless.team_list(["T1", "T2"]) == "T1, T2"
    assert nameless.result_list([("w1", "a")]) == "w1/a"


def test_the_cases_tell_every_reason_there_is() -> None:
    told = set()
    for path in case_files():
        case = read_case(path)
        for expected in case["expect"]:
            state = state_of(case, expected.get("rules"))
            assert state.event is not None
            for standings in all_standings(state):
                for row in standings.rows:
                    reasons = overall_reasons(standings, row.team, called(state))
                    told |= {reason.rule for reason in reasons}
                    assert all_promised(reasons)
                for part in standings.parts:
                    described = state.event.workout(part.workout).part(part.part)
                    for part_row in part.rows:
                        reasons = part_reasons(part, described, part_row.team, called(state))
                        told |= {reason.rule for reason in reasons}
                        assert all_promised(reasons)
    listed = {rule.rule for rule in RULES if rule.rule.startswith(("result.", "overall."))}
    assert told == listed


def all_promised(reasons: tuple[object, ...]) -> bool:
    return all(
        set(reason.facts) == set(RULES[reason.rule].facts)  # type: ignore[attr-defined]
        for reason in reasons
    )
