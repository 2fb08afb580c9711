"""How a forecast is written."""

import pytest

from callroom.model.forecast import Quantiles
from callroom.model.mass import MassUnit
from callroom.model.workout import PartKind
from callroom.views import forecast_wording as written


@pytest.mark.parametrize(
    ("number", "kind", "unit", "text"),
    [
        (450, "time", "kg", "7:30"),
        (164, "work", "kg", "164"),
        (157_000, "load", "kg", "157 kg"),
        (43_091, "load", "lb", "95 lb"),
        (800, "distance", "kg", "800 m"),
    ],
)
def test_a_value_is_written_in_the_unit_of_its_part(
    number: int, kind: PartKind, unit: MassUnit, text: str
) -> None:
    assert written.value(number, kind, unit) == text


@pytest.mark.parametrize(
    ("told", "text"),
    [
        ((300, 360), "5:00 – 6:00"),
        ((300, 300), "5:00"),
        ((300, None), "5:00 – …"),
        ((None, None), "–"),
    ],
)
def test_a_span_says_where_the_middle_teams_are(
    told: tuple[int | None, int | None], text: str
) -> None:
    low, high = told
    quantiles = Quantiles(p10=low, p25=low, p50=low, p75=high, p90=high)
    assert written.span(quantiles, "time") == text


def test_every_capacity_has_plain_words() -> None:
    from typing import get_args

    from callroom.model.movement import Capacity

    assert len({written.capacity(name) for name in get_args(Capacity)}) == len(get_args(Capacity))
    assert written.capacity("hinge") == "lifting from the hips"
