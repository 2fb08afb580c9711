"""The picture of how results spread: what stands where."""

from itertools import pairwise

import pytest

from callroom.bootstrap.forecasting import forecast_day
from callroom.views.forecast import PartsOutlook
from callroom.views.spread import MARGIN, WHOLE, Spread, spread
from tests.views.building import example_event

DAY = forecast_day(example_event(), teams=200)
PARTS = [part for workout in DAY.workouts for part in workout.parts]


def drawn(part: PartsOutlook) -> Spread:
    picture = spread(part)
    assert picture is not None
    return picture


@pytest.mark.parametrize("part", PARTS, ids=lambda part: f"{part.kind}-{part.cap_s}")
def test_everything_stands_inside_the_picture(part: PartsOutlook) -> None:
    picture = drawn(part)
    assert [hill.outlook for hill in picture.hills] == list(part.divisions)
    heights = [bar.height for hill in picture.hills for bar in hill.bars]
    assert max(heights) == pytest.approx(WHOLE, abs=1)
    assert min(heights) >= 0
    for hill in picture.hills:
        for bar, after in pairwise(hill.bars):
            assert bar.left + bar.width == after.left
        assert all(MARGIN <= bar.left <= WHOLE - MARGIN for bar in hill.bars)
        placed = [one for one in (hill.low, hill.middle, hill.high) if one is not None]
        assert placed == sorted(placed)
    values = [tick.value for tick in picture.ticks]
    assert 2 <= len(values) <= 7
    assert len({after - before for before, after in pairwise(values)}) == 1


def test_the_bars_of_a_hill_hold_all_teams_but_those_beyond() -> None:
    for part in PARTS:
        for hill, one in zip(drawn(part).hills, part.divisions, strict=True):
            histogram = one.forecast.picture
            assert len(hill.bars) == len(histogram.counts)
            teams = sum(histogram.counts) + histogram.beyond
            assert hill.beyond_percent == round(100 * histogram.beyond / teams)


def test_only_what_is_past_the_cap_is_late() -> None:
    timed = next(part for part in PARTS if part.kind == "time")
    picture = drawn(timed)
    assert picture.cap is not None
    late = [bar for hill in picture.hills for bar in hill.bars if bar.late]
    early = [bar for hill in picture.hills for bar in hill.bars if not bar.late]
    assert late, "the example's cap is too short for some"
    assert all(bar.left >= picture.cap for bar in late)
    assert all(bar.left < picture.cap for bar in early)


def test_without_a_finish_there_is_no_cap_and_nothing_is_late() -> None:
    work = next(part for part in PARTS if part.kind == "work")
    picture = drawn(work)
    assert picture.cap is None
    assert not any(bar.late for hill in picture.hills for bar in hill.bars)
