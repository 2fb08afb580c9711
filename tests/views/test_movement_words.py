"""Every value that a movement may have has its word."""

from typing import get_args

import pytest

from callroom.model import movement
from callroom.model.movement import KitNeed, Rate, Variation
from callroom.views import wording
from callroom.views.movement_words import WORDS, choices, word


def said_by(struct: type, field: str) -> tuple[str, ...]:
    return get_args(struct.__annotations__[field])


@pytest.mark.parametrize(
    ("group", "values"),
    [
        ("cost", get_args(movement.Cost)),
        ("count_unit", get_args(movement.CountUnit)),
        ("load", get_args(movement.LoadStyle)),
        ("setting", get_args(movement.Setting)),
        ("capacity", get_args(movement.Capacity)),
        ("landmark", get_args(movement.Landmark)),
        ("usual", said_by(Variation, "usual")),
        ("per", said_by(KitNeed, "per")),
        ("rate_unit", said_by(Rate, "unit")),
        ("level", said_by(Rate, "level")),
        ("who", said_by(Rate, "who")),
    ],
)
def test_a_group_has_a_word_for_each_value(group: str, values: tuple[str, ...]) -> None:
    assert set(WORDS[group]) == set(values)
    assert [value for value, _ in choices(group, wording.ENGLISH)] == list(WORDS[group])


def test_a_word_is_said_in_the_events_language() -> None:
    assert word("landmark", "hip_crease", wording.ENGLISH) == "hip crease"
