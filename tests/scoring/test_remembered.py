"""What is remembered from one State to the next never changes an answer."""

import random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from callroom.model import State, TeamStatus
from callroom.scoring import all_standings, division_scores, division_standings, standings_of
from tests.scoring.invented import SLOTS, competitions, invented_result, part_of, with_result


def afresh(state: State) -> Any:
    """The standings of a State with nothing remembered: rules of its own are known to nobody."""
    assert state.event is not None
    rules = replace(state.event.rules)
    return division_standings(replace(state, event=replace(state.event, rules=rules)), "d")


def changed(state: State, rng: random.Random) -> State:
    """The next State: a report, a report less, a team that leaves or comes back, a new rule."""
    assert state.event is not None
    deed = rng.choice(("report", "report", "report", "less", "team", "rules", "nothing"))
    key = rng.choice(sorted(state.sheets) or [""])
    if deed == "report" and key:
        workout, part, *_ = key.split("/")
        kind = part_of(state, workout, part).kind
        sheet = with_result(state.sheets[key], invented_result(rng, kind))
        return replace(state, sheets={**state.sheets, key: sheet})
    if deed == "less" and len(state.sheets) > len(SLOTS):
        return replace(
            state, sheets={name: one for name, one in state.sheets.items() if name != key}
        )
    if deed == "team":
        gone = TeamStatus(status="withdrawn", since_seq=1)
        return replace(state, team_status={} if state.team_status else {"Ash": gone})
    if deed == "rules":
        other = replace(state.event.rules, absent_overall=rng.choice(["below", "unranked"]))
        return replace(state, event=replace(state.event, rules=other))
    return state


@settings(max_examples=12, deadline=None)
@given(competitions(), st.integers(0, 2**32))
def test_one_state_after_the_other_gives_what_each_gives_alone(state: State, seed: int) -> None:
    rng = random.Random(seed)
    past = [state]
    for _ in range(6):
        # Pages of an earlier State are drawn in between, as before and after a decision.
        looked_at = rng.choice(past)
        assert division_standings(looked_at, "d") == afresh(looked_at)
        past.append(changed(past[-1], rng))
        assert division_standings(past[-1], "d") == afresh(past[-1])
        assert all_standings(past[-1])[0] == standings_of(division_scores(past[-1], "d"))


@given(competitions(absences=False), st.integers(0, 2**32))
@settings(max_examples=10, deadline=None)
def test_a_report_leaves_every_other_part_as_it_was(state: State, seed: int) -> None:
    """Not only equal: the very same, so that nothing was worked out again."""
    rng = random.Random(seed)
    before = division_standings(state, "d")
    assert division_standings(replace(state, seq=state.seq + 1), "d") is before
    key = rng.choice(sorted(state.sheets))
    workout, part, *_ = key.split("/")
    kind = part_of(state, workout, part).kind
    sheet = with_result(state.sheets[key], invented_result(rng, kind))
    after = division_standings(replace(state, sheets={**state.sheets, key: sheet}), "d")
    for was, now in zip(before.parts, after.parts, strict=True):
        if (now.workout, now.part) != (workout, part) and before.starters == after.starters:
            assert now is was
