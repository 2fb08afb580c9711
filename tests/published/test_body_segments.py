"""The drawn body against published segment lengths; see ``data/body_segments.toml``."""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from callroom.standards import Pose
from callroom.standards.body import body_of
from callroom.standards.pose import joints_of

DATA: dict[str, Any] = tomllib.loads(
    (Path(__file__).parent / "data" / "body_segments.toml").read_text(encoding="utf-8")
)
FRACTIONS = DATA["stature_fractions"]
HEIGHTS = ("ankle", "knee", "hip", "shoulder")


@pytest.mark.parametrize("stature_m", [1.5, 1.75, 2.0])
@pytest.mark.parametrize("joint", HEIGHTS)
def test_a_standing_body_has_its_joints_at_the_published_heights(
    joint: str, stature_m: float
) -> None:
    found = joints_of(Pose(id="standing"), body_of(stature_m))
    assert found[f"near_{joint}"].y == pytest.approx(FRACTIONS[f"{joint}_height"] * stature_m)


def test_a_standing_body_is_as_tall_as_its_stature() -> None:
    found = joints_of(Pose(id="standing"), body_of(1.8))
    assert found["top_of_head"].y == pytest.approx(1.8)
    assert found["chin"].y == pytest.approx(FRACTIONS["chin_height"] * 1.8)


def test_arms_feet_and_shoulders_have_their_published_lengths() -> None:
    body = body_of(2.0)
    lengths = (body.upper_arm, body.forearm, body.hand, body.foot, body.shoulder_half * 2)
    names = ("upper_arm", "forearm", "hand", "foot_length", "shoulder_breadth")
    assert lengths == pytest.approx(tuple(FRACTIONS[name] * 2.0 for name in names))


def test_the_published_masses_make_up_a_whole_body() -> None:
    mass = {name: share for name, share, _ in DATA["mass"]["rows"]}
    once = ("head_and_neck", "trunk")
    assert sum(mass[name] for name in once) + 2 * sum(
        share for name, share in mass.items() if name not in once
    ) == pytest.approx(1.0)
