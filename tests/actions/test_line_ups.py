"""Who takes the floor in a workout: possible, in time, not too often, or allowed with a reason."""

from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions.line_ups import clear_athlete, set_line_up, stand_down
from callroom.journal.entries import bodies
from callroom.model import (
    Actor,
    Athlete,
    BadInput,
    LinedUp,
    NotAllowed,
    Refusal,
    Team,
    milliseconds,
)
from callroom.model.line_up import line_up_in, substitutions, team_in
from callroom.scoring.standings import division_scores
from callroom.views.sentences import SENTENCES, sentence
from tests.actions.day_building import DIRECTOR, EVENT, HEAD_JUDGE, JUDGE, Day, loaded_day

DESK = Actor(role="desk", device="laptop", name="desk")
START_MS = milliseconds(EVENT.starts_at)
# Published: w1-1 at 0, w2-1 at 3600; teams report 900 s before, and the deadline is 600 s earlier.
SQUAD = (
    Athlete(place="A", category="women", person="ann"),
    Athlete(place="B", category="men", person="bob"),
    Athlete(place="C", category="women", person="cat", reserve=True),
    Athlete(place="D", category="men", person="dan", reserve=True),
)


def day_with_reserves(**rules: Any) -> Day:
    day = loaded_day()
    division = replace(EVENT.divisions[0], reserves=2)
    changed = replace(EVENT.rules, substitution_deadline_s=600, **rules)
    day.tell(DIRECTOR, bodies.EventSet(event=replace(EVENT, divisions=(division,), rules=changed)))
    day.tell(DIRECTOR, bodies.TeamSet(team=replace(day.state.teams["T1"], athletes=SQUAD)))
    day.at_ms = START_MS - 7_200_000
    return day


def places(a: str = "", b: str = "") -> tuple[LinedUp, ...]:
    given = (("A", a), ("B", b))
    return tuple(LinedUp(place=place, person=person) for place, person in given if person)


def standing(day: Day, workout: str) -> dict[str, str]:
    team = day.state.teams["T1"]
    return {one.place: one.person for one in line_up_in(day.state, workout, team)}


def team_of(day: Day) -> Team:
    return day.state.teams["T1"]


def breaches(day: Day, request: Any) -> list[str]:
    with pytest.raises(BadInput) as refused:
        day.ask(DESK, request)
    return [finding.rule for finding in refused.value.findings]


def test_a_reserve_comes_in_where_the_desk_says_so_and_nowhere_else() -> None:
    day = day_with_reserves()
    day.ask(DESK, set_line_up("T1", ("w2",), places("cat", "bob")))
    assert standing(day, "w1") == {"A": "ann", "B": "bob"}
    assert standing(day, "w2") == {"A": "cat", "B": "bob"}
    there = team_in(day.state, "w2", team_of(day))
    assert [(one.person, one.place, one.reserve) for one in there.athletes] == [
        ("ann", "C", True),
        ("bob", "B", False),
        ("cat", "A", False),
        ("dan", "D", True),
    ]


def test_a_category_is_kept() -> None:
    day = day_with_reserves()
    request = set_line_up("T1", ("w1",), places("dan", "bob"))
    assert breaches(day, request) == ["line_up.wrong_make_up"]


def test_it_is_too_late_once_the_deadline_before_reporting_is_over() -> None:
    day = day_with_reserves()
    request = set_line_up("T1", ("w2",), places("cat", "bob"))
    day.at_ms = START_MS + (3600 - 900 - 600) * 1000 + 1
    assert breaches(day, request) == ["line_up.too_late"]
    day.at_ms -= 1
    day.ask(DESK, request)


def test_every_breach_is_told_at_once_in_words() -> None:
    day = day_with_reserves(substitutions=0)
    day.at_ms = START_MS
    with pytest.raises(BadInput) as refused:
        day.ask(DESK, set_line_up("T1", ("w1",), places("dan", "bob")))
    rules = [finding.rule for finding in refused.value.findings]
    assert rules == ["line_up.wrong_make_up", "line_up.too_late", "line_up.too_many"]
    assert set(rules) <= set(SENTENCES)
    said = [sentence(finding, event=EVENT) for finding in refused.value.findings]
    assert "2 of the category Men" in said[0]
    assert "until 08:35" in said[1]
    assert "the rules allow 0" in said[2]


def test_changes_are_counted_over_the_day_and_going_back_to_the_start_is_free() -> None:
    day = day_with_reserves(substitutions=1)
    day.ask(DESK, set_line_up("T1", ("w1", "w2"), places("cat", "bob")))
    assert substitutions(day.state, team_of(day)) == 1
    assert breaches(day, set_line_up("T1", ("w2",), places("cat", "dan"))) == ["line_up.too_many"]
    # Back in the second workout would be a second change; in both it is none at all.
    assert breaches(day, set_line_up("T1", ("w2",), places("ann", "bob"))) == ["line_up.too_many"]
    day.ask(DESK, set_line_up("T1", ("w1", "w2"), places("ann", "bob")))
    assert substitutions(day.state, team_of(day)) == 0


def test_the_head_judge_may_allow_it_and_says_why() -> None:
    day = day_with_reserves(substitutions=0)
    day.at_ms = START_MS
    wanted = places("dan", "bob")
    with pytest.raises(NotAllowed):
        day.ask(DESK, set_line_up("T1", ("w1",), wanted, allowed=True, reason="please"))
    with pytest.raises(Refusal, match="no_reason"):
        day.ask(HEAD_JUDGE, set_line_up("T1", ("w1",), wanted, allowed=True))
    day.ask(HEAD_JUDGE, set_line_up("T1", ("w1",), wanted, allowed=True, reason="stuck in traffic"))
    known = day.state.line_ups["w1/T1"]
    assert (known.allowed, known.reason) == (True, "stuck in traffic")


@pytest.mark.parametrize(
    ("wanted", "rule"),
    [
        (places("p2a", "bob"), "line_up.not_of_squad"),
        (places("ann", "ann"), "line_up.twice"),
        ((LinedUp(place="Z", person="ann"),), "line_up.place_unknown"),
        (places("ann", "bob"), "line_up.as_it_is"),
    ],
)
def test_what_cannot_be_nobody_can_allow(wanted: tuple[LinedUp, ...], rule: str) -> None:
    day = day_with_reserves()
    with pytest.raises(Refusal) as refused:
        day.ask(HEAD_JUDGE, set_line_up("T1", ("w1",), wanted, allowed=True, reason="kindness"))
    assert refused.value.rule == rule


def test_what_has_begun_and_what_is_not_there_keeps_its_line_up() -> None:
    day = day_with_reserves()
    day.ask(HEAD_JUDGE, ask.start_heat("w1-1", START_MS + 70_000))
    for workouts, rule in (
        (("w1",), "line_up.heat_has_run"),
        (("w9",), "workout.unknown"),
        ((), "line_up.no_workout"),
    ):
        with pytest.raises(Refusal) as refused:
            day.ask(HEAD_JUDGE, set_line_up("T1", workouts, places("cat", "bob")))
        assert refused.value.rule == rule


def test_a_judge_in_a_lane_changes_no_line_up() -> None:
    with pytest.raises(NotAllowed):
        day_with_reserves().ask(JUDGE, set_line_up("T1", ("w1",), places("cat", "bob")))


def test_who_stands_down_takes_the_floor_only_after_first_aid_says_so() -> None:
    day = day_with_reserves()
    day.ask(DESK, stand_down("T1", "cat"))
    with pytest.raises(Refusal, match="stands_down_already"):
        day.ask(DESK, stand_down("T1", "cat"))
    request = set_line_up("T1", ("w1",), places("cat", "bob"), allowed=True, reason="wants to")
    with pytest.raises(Refusal, match="not_cleared"):
        day.ask(HEAD_JUDGE, request)
    with pytest.raises(NotAllowed):
        day.ask(DESK, clear_athlete("T1", "cat"))
    day.ask(HEAD_JUDGE, clear_athlete("T1", "cat"))
    day.ask(HEAD_JUDGE, request)
    with pytest.raises(Refusal, match="not_of_squad"):
        day.ask(DESK, stand_down("T1", "p2a"))


def test_a_team_that_takes_the_floor_short_handed_stands_as_the_rules_say() -> None:
    day = day_with_reserves()

    def status() -> str:
        field = division_scores(day.state, "pairs").field
        return next(entrant.status for entrant in field if entrant.team == "T1")

    day.ask(DESK, set_line_up("T1", ("w2",), places("ann")))
    assert status() == "out_of_competition"
    day.ask(DESK, set_line_up("T1", ("w2",), places("ann", "bob")))
    assert status() == "in"
