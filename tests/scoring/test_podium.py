"""The gate of the podium, against every way the open scores can turn out."""

import itertools
import random
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import TeamStatus
from callroom.scoring import DivisionScores, Score, division_scores, gate_of, standings_of
from callroom.scoring.pair_places import OPEN, joint_places, single_places
from callroom.scoring.rank import places
from tests.scoring.casebook import state_of

TEAMS = ("Ash", "Birch", "Cedar", "Elm", "Fir")
POINTS: tuple[dict[str, Any], ...] = (
    {"kind": "places"},
    {"kind": "linear", "first": 10, "step": 3},
    {"kind": "table", "table": ["12.5", "8", "1"]},
    {"kind": "formula", "formula": "floor(100 * (teams - place + 1) / teams)"},
)
CHAINS: tuple[list[str], ...] = (
    [],
    ["most_firsts"],
    ["best_in:w2", "most_firsts"],
    ["best_in:w1", "shared"],
)
# A key is a result; every open score may stand before, on or after each of the others.
SETTLED_KEYS = (100, 200, 300)
OPEN_KEYS = tuple(
    sorted({*SETTLED_KEYS, *(key + by for key in (0, 100, 200, 300) for by in (1, 2))})
)


def division(
    keys: dict[str, list[int | None]], rules: dict[str, Any], left: str = ""
) -> DivisionScores:
    """A division with the given keys, part by part, in the order of its teams' ids."""
    names = " ".join(TEAMS[: len(next(iter(keys.values())))])
    workouts = [{"id": name, "kind": "work"} for name in keys]
    state = state_of({"teams": names, "workouts": workouts, "scores": {}}, rules)
    if left:
        status = TeamStatus(status="disqualified" if left == "Birch" else "withdrawn", since_seq=1)
        state = replace(state, team_status={left: status})
    scored = division_scores(state, "d")
    parts = tuple(
        replace(part, scores=tuple(map(score, [one.team for one in scored.field], column)))
        for part, column in zip(scored.parts, keys.values(), strict=True)
    )
    return replace(scored, parts=parts)


def score(team: str, key: int | None) -> Score:
    return Score(team, "withdrew" if key is None else "worked", key, work=key, confirmed=True)


def with_key(scored: DivisionScores, cells: dict[tuple[int, int], int | None]) -> DivisionScores:
    """The same division with other keys at (part, team)."""
    parts = []
    for at, part in enumerate(scored.parts):
        changed = list(part.scores)
        for (where, team), key in cells.items():
            if where == at:
                changed[team] = score(changed[team].team, key)
        parts.append(replace(part, scores=tuple(changed)))
    return replace(scored, parts=tuple(parts))


def all_outcomes(
    scored: DivisionScores, cells: list[tuple[int, int]]
) -> Iterator[frozenset[tuple[str, int]]]:
    """The first three in every way the open scores can turn out."""
    choices = [(*OPEN_KEYS, None)] * len(cells)
    for keys in itertools.product(*choices):
        rows = standings_of(with_key(scored, dict(zip(cells, keys, strict=True)))).rows
        yield frozenset((row.team, row.place) for row in rows if row.place and row.place <= 3)


@st.composite
def divisions(draw: st.DrawFn) -> tuple[DivisionScores, list[tuple[int, int]]]:
    teams, parts = draw(st.integers(2, 5)), draw(st.integers(1, 3))
    rng = random.Random(draw(st.integers(0, 2**32)))
    keys: dict[str, list[int | None]] = {
        f"w{part}": [rng.choice(SETTLED_KEYS) if rng.random() < 0.9 else None for _ in range(teams)]
        for part in range(1, parts + 1)
    }
    rules = {
        "points": dict(rng.choice(POINTS)),
        "tie_chain": rng.choice(CHAINS),
        "absent_overall": rng.choice(["below", "unranked"]),
        "after_withdrawal": rng.choice(["keep", "move_up"]),
    }
    scored = division(keys, rules, left=rng.choice(["", "", "", "Ash", "Birch"]))
    cells = [(part, team) for part in range(parts) for team in range(teams)]
    return scored, rng.sample(cells, min(draw(st.integers(0, 2)), len(cells)))


@settings(max_examples=120, deadline=None)
@given(divisions())
def test_the_gate_is_open_exactly_if_no_outcome_changes_the_first_three(
    drawn: tuple[DivisionScores, list[tuple[int, int]]],
) -> None:
    scored, cells = drawn
    still_open = {
        (f"w{part + 1}", scored.parts[part].terms.part.id, scored.field[team].team): (
            "unconfirmed",
        )
        for part, team in cells
    }
    gate = gate_of(scored, still_open)  # type: ignore[arg-type]
    found = set(all_outcomes(scored, cells))
    now = frozenset((one.team, one.place) for one in gate.podium)
    assert now in found
    assert gate.certain == (found == {now} and bool(now))
    for one in gate.podium:
        kept = all((one.team, one.place) in outcome for outcome in found)
        assert kept or not one.certain
    comers = {team for outcome in found for team, _ in outcome} - {one.team for one in gate.podium}
    assert comers <= set(gate.challengers)
    if not gate.certain:
        assert gate.awaited or not now
    assert {(each.workout, each.team) for each in (*gate.awaited, *gate.idle)} == {
        (workout, team) for workout, _, team in still_open
    }


@settings(max_examples=30, deadline=None)
@given(divisions())
def test_what_is_said_to_be_idle_changes_nothing_by_itself(
    drawn: tuple[DivisionScores, list[tuple[int, int]]],
) -> None:
    scored, cells = drawn
    part_id = scored.parts[0].terms.part.id
    names = {
        (part, team): (f"w{part + 1}", part_id, scored.field[team].team) for part, team in cells
    }
    gate = gate_of(scored, dict.fromkeys(names.values(), ("unconfirmed",)))
    idle = {(each.workout, each.part, each.team) for each in gate.idle}
    alone = [cell for cell, name in names.items() if name in idle]
    now = frozenset((one.team, one.place) for one in gate.podium)
    for cell in alone:
        assert set(all_outcomes(scored, [cell])) == {now}


def brute_pairs(
    one: Any, other: Any, settled: list[int], others_open: int
) -> set[tuple[int | None, int | None]]:
    def choices(slot: Any) -> list[int | None]:
        return [*OPEN_KEYS, None] if slot == OPEN else [slot]

    found = set()
    for mine in choices(one):
        for theirs in choices(other):
            for rest in itertools.product([*OPEN_KEYS, None], repeat=others_open):
                placed = places([mine, theirs, *settled, *rest])
                found.add((placed[0], placed[1]))
    return found


slots = st.sampled_from([OPEN, None, *SETTLED_KEYS])


@settings(max_examples=60, deadline=None)
@given(slots, slots, st.lists(st.sampled_from(SETTLED_KEYS), max_size=4), st.integers(0, 2))
def test_joint_places_are_those_that_can_be_and_no_others(
    one: Any, other: Any, settled: list[int], others_open: int
) -> None:
    found = joint_places(one, other, settled, others_open)
    assert found == brute_pairs(one, other, settled, others_open)


def test_a_settled_score_can_be_pushed_back_by_every_open_one() -> None:
    assert single_places(200, [100, 300], 2) == {2, 3, 4}
    assert single_places(OPEN, [100, 100], 0) == {1, 3, None}


@pytest.mark.parametrize(
    ("third", "certain"),
    # Cedar 12 points, Elm 16 before the last workout: won by Elm it ends 16 to 17.
    [(300, True), (None, False)],
)
def test_what_is_awaited_is_named_only_where_it_can_matter(
    third: int | None, certain: bool
) -> None:
    keys: dict[str, list[int | None]] = {
        name: [100, 200, 300, 400] for name in ("w1", "w2", "w3", "w4")
    }
    keys["w5"] = [100, 200, third, 400]
    scored = division(keys, {"points": {"kind": "places"}, "tie_chain": []})
    part = scored.parts[4].terms.part.id
    gate = gate_of(scored, {("w5", part, "Elm"): ("missing",)})
    assert gate.certain == certain
    assert [each.team for each in gate.awaited] == ([] if certain else ["Elm"])
    # Without a place in the last workout Cedar falls below Elm: each can still be third.
    assert gate.challengers == (() if certain else ("Cedar",))
    assert [one.certain for one in gate.podium] == [True, True, certain]
