"""Invented competitions for properties.

Hypothesis chooses how large and how strange they are and the seed of the rest: drawing every
number by itself would take it longer than all the scoring.
"""

import random
from decimal import Decimal
from typing import Any

from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import Lift, Mass, Part, Penalty, Result, ScoreSheet, State, TeamStatus
from callroom.model.workout import PartKind
from tests.scoring.casebook import sheets, state_of

TEAMS = ("Ash", "Birch", "Cedar", "Elm", "Fir", "Gum", "Hazel")

WORKOUTS: list[dict[str, Any]] = [
    {"id": "w1", "kind": "time", "work": 40, "tiebreak": {"after": "t"}, "cap_s": 60},
    {
        "id": "w2",
        "kind": "time",
        "work": 40,
        "tiebreak": {"after": "t", "splits_finishers": True},
        "resolution_ms": 100,
        "cap_s": 60,
    },
    {"id": "w3", "kind": "work", "tiebreak": {"after": "round"}, "cap_s": 60},
    {
        "id": "w4",
        "parts": [
            {"id": "a", "kind": "load", "lifts": "clean jerk", "share_percent": 50},
            {"id": "b", "kind": "distance", "share_percent": 50},
        ],
    },
    {"id": "w5", "kind": "time", "work": 40, "cap_rule": "second_per_missing", "cap_s": 60},
]
SLOTS = [(each["id"], part["id"]) for each in WORKOUTS for part in each.get("parts", [{"id": "a"}])]

# Few different values, so that ties are common.
TIMES_MS = (0, 30_000, 30_040, 30_900, 31_000, 59_999, 60_000, 60_400, 61_000)
SPLITS_MS = (None, 0, 10_000, 10_050, 10_999, 11_000)
COUNTS = (0, 1, 2, 20, 39, 40)
AMOUNTS = (Decimal(0), Decimal(100), Decimal("45.359237"), Decimal("102.5"))

POINTS: tuple[dict[str, Any], ...] = (
    {"kind": "places"},
    {"kind": "linear", "first": 10, "step": 3},
    {"kind": "table", "table": ["12.5", "8", "1"]},
    {"kind": "formula", "formula": "100 / place ** 0.5"},
)
CHAINS: tuple[list[str], ...] = ([], ["most_firsts"], ["best_in:w4", "most_firsts"])


def invented_result(rng: random.Random, kind: PartKind) -> Result:
    """A result of a part of one kind, with its number."""
    modified = rng.random() < 0.2
    split_ms = rng.choice(SPLITS_MS)
    if kind == "load":
        lifts = tuple(
            Lift(
                task=rng.choice(("clean", "jerk")),
                mass=Mass(amount=rng.choice(AMOUNTS), unit="lb" if rng.random() < 0.4 else "kg"),
                good=rng.random() < 0.7,
            )
            for _ in range(rng.randrange(5))
        )
        return Result(outcome="lifted", lifts=lifts, modified=modified)
    if kind == "distance":
        return Result(outcome="covered", distance_m=rng.choice(COUNTS), modified=modified)
    if kind == "time" and rng.random() < 0.6:
        return Result(
            outcome="finished",
            time_ms=rng.choice(TIMES_MS),
            tiebreak_ms=split_ms,
            modified=modified,
        )
    return Result(
        outcome="capped" if kind == "time" else "worked",
        work=rng.choice(COUNTS),
        tiebreak_ms=split_ms,
        modified=modified,
    )


def part_of(state: State, workout: str, part: str) -> Part:
    assert state.event is not None
    return state.event.workout(workout).part(part)


def with_result(sheet: ScoreSheet, result: Result) -> ScoreSheet:
    """The same sheet with another result in its one report."""
    (kept,) = sheet.reports
    return replace(sheet, reports=(replace(kept, report=replace(kept.report, result=result)),))


@st.composite
def competitions(draw: st.DrawFn, *, absences: bool = True) -> State:
    """A book with some teams, a report of each in every part, and any switches."""
    names = TEAMS[: draw(st.integers(2, len(TEAMS)))]
    rules = {
        "points": dict(draw(st.sampled_from(POINTS))),
        "tie_chain": draw(st.sampled_from(CHAINS)),
        "absent_overall": draw(st.sampled_from(["below", "unranked"])),
        "after_withdrawal": draw(st.sampled_from(["keep", "move_up"])),
        "after_disqualification": draw(st.sampled_from(["keep", "move_up"])),
        "modified_work": draw(st.sampled_from(["below", "unranked"])),
    }
    left = draw(st.sampled_from(["", "withdrawn", "disqualified"])) if absences else ""
    rng = random.Random(draw(st.integers(0, 2**32)))
    state = state_of({"teams": " ".join(names), "workouts": WORKOUTS, "scores": {}}, rules)
    found: dict[str, ScoreSheet] = {}
    for workout, part in SLOTS:
        kind = part_of(state, workout, part).kind
        for team in names:
            (sheet,) = sheets(workout, part, team, rng.choice(("dns", "wd", "?")))
            if not absences or rng.random() < 0.9:
                sheet = with_result(sheet, invented_result(rng, kind))
            if rng.random() < 0.1:
                penalty = Penalty(seq=2, reason="lane", seconds=1, counts=1)
                sheet = replace(sheet, penalties=(penalty,))
            found[f"{workout}/{part}/{team}/1"] = sheet
    gone = {
        "": {},
        "withdrawn": {names[0]: TeamStatus(status="withdrawn", since_seq=3)},
        "disqualified": {names[0]: TeamStatus(status="disqualified", since_seq=3)},
    }
    return replace(state, sheets=found, team_status=gone[left])


def reordered(state: State, rng: random.Random) -> State:
    """The same book with its teams and sheets listed in another order."""

    def shuffled(things: Any) -> dict[str, Any]:
        return {key: things[key] for key in rng.sample(sorted(things), len(things))}

    return replace(state, teams=shuffled(state.teams), sheets=shuffled(state.sheets))
