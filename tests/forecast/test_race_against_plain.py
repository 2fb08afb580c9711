"""The vectorised race against one team after the other in plain Python, for the same draws."""

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from callroom.forecast.course import course_of
from callroom.forecast.race import race
from callroom.model import Block, Part, Switch, Task, Who
from tests.forecast.building import FOURS, MOVEMENTS, athletes_of, block, loads, part_of, task
from tests.forecast.plain import plain_race

TEAMS = 40


def agree(part: Part, level: float = 0.5, seed: int = 1) -> None:
    course = course_of(part, FOURS, MOVEMENTS, athletes_of(teams=TEAMS, level=level, seed=seed))
    horizon_s = 2.0 * part.cap_s if part.kind == "time" else float(part.cap_s)
    ran = race(course, cap_s=part.cap_s, horizon_s=horizon_s)
    plain = plain_race(course, cap_s=part.cap_s, horizon_s=horizon_s, teams=TEAMS)
    np.testing.assert_allclose(ran.finish_s, [one.finish for one in plain], rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(ran.split_s.T, [one.splits for one in plain], rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(ran.lost_s.T, [one.lost for one in plain], rtol=1e-9, atol=1e-6)
    np.testing.assert_allclose(ran.worked_s.T, [one.worked for one in plain], rtol=1e-9, atol=1e-6)
    np.testing.assert_array_equal(ran.counts, [one.counts for one in plain])
    np.testing.assert_array_equal(ran.at_cap, [one.at_cap for one in plain])


CASES: dict[str, Part] = {
    "freely": part_of(block(task("burpee", 30), task("thruster", 30, loads=loads("29", "43")))),
    "each, one after the other": part_of(
        block(task("run", 200, sharing="each"), task("push_up", 10, sharing="each"))
    ),
    "each, two at a time": part_of(
        block(task("pull_up", 8, sharing="each", working=2), task("burpee", 10))
    ),
    "two side by side on one amount": part_of(block(task("thruster", 60, working=2))),
    "together, four of them": part_of(block(task("burpee", 25, sharing="together", working=4))),
    "a pair in step": part_of(
        block(task("burpee", 25, sharing="together", working=2, who=Who(kind="pair")))
    ),
    "a load carried by all": part_of(
        block(task("sandbag_carry", 200, sharing="carry", loads=loads("20", "30"), mark=25))
    ),
    "fixed order, every five": part_of(
        block(
            task("push_up", 60, switch=Switch(kind="fixed_order")),
            task("burpee", 20, switch=Switch(kind="every", every=5, hand_tag=True)),
        )
    ),
    "one athlete a round": part_of(
        block(task("burpee", 6, switch=Switch(kind="each_round")), task("run", 100), rounds=5)
    ),
    "least share": part_of(block(task("pull_up", 40, least_each=6))),
    "held by a partner": part_of(block(task("push_up", 80, while_holding="plank_hold"))),
    "strands": part_of(
        block(
            task("row", 600, strand=1),
            task("power_clean", 20, strand=2, loads=loads("40", "60")),
            task("push_up", 30, strand=2),
        ),
        block(task("burpee", 12), rounds=2),
    ),
    "on the clock": part_of(block(task("burpee", 8), task("run", 100), rounds=4, every_s=120)),
    "as many rounds as possible": part_of(
        block(task("push_up", 12), task("run", 80, mark=20), open_ended=True),
        cap_s=420,
        kind="work",
    ),
    "as much as possible": part_of(block(task("row"), open_ended=True), cap_s=200, kind="work"),
}


@pytest.mark.parametrize("name", CASES)
def test_each_rule_of_sharing_agrees(name: str) -> None:
    agree(CASES[name])


def tasks() -> st.SearchStrategy[Task]:
    def made(kind: str, amount: int, sharing: str, working: int, who: Who, strand: int) -> Task:
        return task(
            kind, amount, sharing=sharing, working=working, who=who, strand=strand,
            loads=loads("30", "45"),
        )  # fmt: skip

    return st.builds(
        made,
        st.sampled_from(["burpee", "push_up", "pull_up", "thruster", "run"]),
        st.integers(3, 30),
        st.sampled_from(["split", "each", "together", "carry"]),
        st.integers(1, 3),
        st.sampled_from(
            [Who(), Who(kind="category", category="men"), Who(kind="places", places=("A", "C"))]
        ),
        st.integers(0, 1),
    )


@settings(max_examples=25)
@given(
    st.lists(tasks(), min_size=1, max_size=3),
    st.integers(1, 3),
    st.booleans(),
    st.floats(-1, 1.5),
    st.integers(0, 100),
)
def test_invented_workouts_agree(
    chosen: list[Task], rounds: int, ends: bool, level: float, seed: int
) -> None:
    numbered = tuple(
        msgspec.structs.replace(one, id=f"t{number}") for number, one in enumerate(chosen)
    )
    made = Block(id="b", tasks=numbered, rounds=rounds if ends else 1, open_ended=not ends)
    agree(part_of(made, cap_s=300, kind="time" if ends else "work"), level=level, seed=seed)
