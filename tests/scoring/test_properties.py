"""What must hold of any standings, whatever was reported."""

import random
from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import msgspec
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Result, State
from callroom.scoring import (
    all_standings,
    called,
    division_standings,
    overall_reasons,
    part_reasons,
)
from callroom.scoring.parts import PartStandings
from tests.scoring.invented import (
    SLOTS,
    competitions,
    invented_result,
    part_of,
    reordered,
    with_result,
)
from tests.scoring.oracle import better

seeds = st.integers(0, 2**32)


@given(competitions(), seeds)
def test_the_order_in_which_entries_come_never_changes_the_standings(
    state: State, seed: int
) -> None:
    assert all_standings(reordered(state, random.Random(seed))) == all_standings(state)


@given(competitions())
def test_a_place_is_one_more_than_the_number_of_better_teams(state: State) -> None:
    """Every place in every part, against rules written down a second time."""
    assert state.event is not None
    rules = state.event.rules
    for workout, part_id in SLOTS:
        part = part_of(state, workout, part_id)
        standings = division_standings(state, "d").part(workout, part_id)
        reported = {}
        for row in standings.rows:
            sheet = state.sheets[f"{workout}/{part_id}/{row.team}/1"]
            result = sheet.reports[0].report.result
            reported[row.team] = (result, next(iter(sheet.penalties), None))
        placed = {row.team: row.place for row in standings.rows if row.place is not None}
        for row in standings.rows:
            result = reported[row.team][0]
            left = state.team_status.get(row.team)
            rule = {
                None: "keep",
                "withdrawn": rules.after_withdrawal,
                "disqualified": rules.after_disqualification,
            }[left.status if left else None]
            has_place = (
                result.outcome not in {"did_not_start", "withdrew", "unknown"}
                and rule == "keep"
                and not (result.modified and rules.modified_work == "unranked")
            )
            assert (row.team in placed) == has_place
        for team, place in placed.items():
            ahead = sum(
                better(part, rules, reported[other], reported[team]) == "one" for other in placed
            )
            assert place == 1 + ahead


@given(competitions(absences=False), seeds)
def test_a_better_result_never_makes_a_place_worse(state: State, seed: int) -> None:
    """Neither in the part nor overall; for sums of places and tables that fall."""
    assert state.event is not None
    rng = random.Random(seed)
    workout, part_id = rng.choice(SLOTS)
    part = part_of(state, workout, part_id)
    team = rng.choice(sorted(state.teams))
    key = f"{workout}/{part_id}/{team}/1"
    sheet = state.sheets[key]
    penalty = next(iter(sheet.penalties), None)
    before = sheet.reports[0].report.result
    after = invented_result(rng, part.kind)
    if state.event.rules.modified_work == "unranked":
        before, after = replace(before, modified=False), replace(after, modified=False)
    if better(part, state.event.rules, (before, penalty), (after, penalty)) == "one":
        before, after = after, before

    def places(result: Result) -> tuple[int | None, int | None]:
        changed = {**state.sheets, key: with_result(sheet, result)}
        standings = division_standings(replace(state, sheets=changed), "d")
        return standings.part(workout, part_id).row(team).place, standings.row(team).place

    for worse, good in zip(places(before), places(after), strict=True):
        assert worse is None or (good is not None and good <= worse)


@given(competitions())
def test_no_result_place_or_point_is_ever_a_binary_float(state: State) -> None:
    seen = [type(value) for standings in all_standings(state) for value in values(standings)]
    assert Fraction in seen
    assert float not in seen


@given(competitions())
def test_points_add_up(state: State) -> None:
    standings = division_standings(state, "d")
    for row in standings.rows:
        worth = [standings.part(*named).row(row.team).points for named in standings.counted]
        assert row.points == sum(worth, Fraction(0))
        assert row.places == tuple(
            standings.part(*named).row(row.team).place for named in standings.counted
        )


@given(competitions())
def test_every_team_is_in_every_table_once_and_places_are_1224(state: State) -> None:
    standings = division_standings(state, "d")
    tables: list[Any] = [standings, *standings.parts]
    for table in tables:
        assert sorted(row.team for row in table.rows) == sorted(state.teams)
        placed = [row.place for row in table.rows if row.place is not None]
        assert placed == [1 + sum(other < place for other in placed) for place in placed]
        assert [row.place for row in table.rows[len(placed) :]] == [None] * (
            len(table.rows) - len(placed)
        )


@given(competitions())
def test_every_place_can_explain_itself(state: State) -> None:
    standings = division_standings(state, "d")
    names = called(state)
    for team in state.teams:
        told = overall_reasons(standings, team, names)
        assert told or standings.row(team).standing == "waiting"
        for part in standings.parts:
            described = part_of(state, part.workout, part.part)
            reasons = part_reasons(part, described, team, names)
            assert reasons
            assert_ties_are_told(part, team, [reason.rule for reason in reasons])


def assert_ties_are_told(part: PartStandings, team: str, rules: list[str]) -> None:
    place = part.row(team).place
    shared = place is not None and sum(row.place == place for row in part.rows) > 1
    assert shared == ("result.shared" in rules)


def values(thing: Any) -> Iterator[Any]:
    """Every value inside `thing`, at any depth."""
    yield thing
    if isinstance(thing, msgspec.Struct):
        for name in thing.__struct_fields__:
            yield from values(getattr(thing, name))
    elif isinstance(thing, tuple | list):
        for each in thing:
            yield from values(each)
