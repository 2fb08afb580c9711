"""How results spread, as a picture: one hill a division over a common axis.

Everything is placed in thousandths of the picture's width and of a hill's height, so that a
screen of any width and a sheet of paper draw the same.
"""

from collections.abc import Iterable

import msgspec

from callroom.model.forecast import Histogram
from callroom.model.workout import PartKind
from callroom.views.forecast import PartOutlook, PartsOutlook, WorkoutOutlook
from callroom.views.forecast_wording import results

WHOLE = 1000
MOST_TICKS = 6
MARGIN = 60
"""Left free at both ends of the axis, so that the numbers at its ends can be read."""

_TIME_STEPS = (5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600)
_MASS_STEPS = (1000, 2000, 5000, 10_000, 20_000, 50_000, 100_000)
_COUNT_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)


class Bar(msgspec.Struct, frozen=True, kw_only=True):
    """Teams with about the same result: where the bar stands, and how high.

    `late`: past the cap.
    """

    left: int
    width: int
    height: int
    late: bool


class Hill(msgspec.Struct, frozen=True, kw_only=True):
    """The results of one division.

    `low`, `middle` and `high` are where one team in ten, half, and nine in ten are; None
    where that is off the picture. `beyond_percent` of the teams are past its end.
    """

    outlook: PartOutlook
    bars: tuple[Bar, ...]
    low: int | None
    middle: int | None
    high: int | None
    beyond_percent: int


class Tick(msgspec.Struct, frozen=True, kw_only=True):
    """A number on the axis: `value` in the part's own unit, and where it stands."""

    value: int
    at: int


class Spread(msgspec.Struct, frozen=True, kw_only=True):
    """Hills of all divisions; `cap` is where the cap stands, None where there is no finish."""

    kind: PartKind
    hills: tuple[Hill, ...]
    ticks: tuple[Tick, ...]
    cap: int | None


class PartPicture(msgspec.Struct, frozen=True, kw_only=True):
    """A scored part, and how its results spread; None where nobody gets anywhere."""

    part: PartsOutlook
    spread: Spread | None


class _Axis(msgspec.Struct, frozen=True):
    first: int
    last: int

    def at(self, value: float) -> int:
        """Return where `value` stands [thousandths of the width]."""
        inner = WHOLE - 2 * MARGIN
        return MARGIN + round((value - self.first) / (self.last - self.first) * inner)

    def placed(self, value: int | None) -> int | None:
        """Return where `value` stands, None if that is off the picture."""
        if value is None or not self.first <= value <= self.last:
            return None
        return self.at(value)


def pictures(outlook: WorkoutOutlook) -> tuple[PartPicture, ...]:
    """Return the parts of a workout, each with its picture."""
    return tuple(PartPicture(part=part, spread=spread(part)) for part in outlook.parts)


def spread(part: PartsOutlook) -> Spread | None:
    """Return the picture of a part; None if no team of any division gets anywhere."""
    axis, pictures = _axis(part), _drawn(part)
    if axis is None:
        return None
    timed = part.kind == "time"
    tallest = max(max(one.counts) * WHOLE // one.width for one in pictures)
    return Spread(
        kind=part.kind,
        hills=tuple(
            _hill(one, axis, tallest, part.cap_s if timed else None) for one in part.divisions
        ),
        ticks=_ticks(axis, part.kind),
        cap=axis.at(part.cap_s) if timed else None,
    )


def places(part: PartsOutlook, values: Iterable[int]) -> tuple[int, ...]:
    """Return where results stand on the picture of a part; left out are those beyond it."""
    axis = _axis(part)
    found = (axis.placed(value) for value in values) if axis is not None else ()
    return tuple(at for at in found if at is not None)


def _drawn(part: PartsOutlook) -> list[Histogram]:
    return [one.forecast.picture for one in part.divisions if one.forecast.picture.counts]


def _axis(part: PartsOutlook) -> _Axis | None:
    """Return the axis that all hills of a part share; None if there is no hill."""
    pictures = _drawn(part)
    if not pictures:
        return None
    ends = [part.cap_s] if part.kind == "time" else []
    return _Axis(
        min([one.start for one in pictures] + ends),
        max([one.start + one.width * len(one.counts) for one in pictures] + ends),
    )


def _hill(one: PartOutlook, axis: _Axis, tallest: int, cap_s: int | None) -> Hill:
    picture, told = one.forecast.picture, results(one)
    teams = max(sum(picture.counts) + picture.beyond, 1)
    return Hill(
        outlook=one,
        bars=_bars(picture, axis, tallest, cap_s),
        low=axis.placed(told.p10),
        middle=axis.placed(told.p50),
        high=axis.placed(told.p90),
        beyond_percent=round(100 * picture.beyond / teams),
    )


def _bars(picture: Histogram, axis: _Axis, tallest: int, cap_s: int | None) -> tuple[Bar, ...]:
    bars = []
    for index, count in enumerate(picture.counts):
        start = picture.start + index * picture.width
        left = axis.at(start)
        bars.append(
            Bar(
                left=left,
                width=axis.at(start + picture.width) - left,
                height=round(count * WHOLE / picture.width / tallest * WHOLE),
                late=cap_s is not None and start >= cap_s,
            )
        )
    return tuple(bars)


def _ticks(axis: _Axis, kind: PartKind) -> tuple[Tick, ...]:
    steps = {"time": _TIME_STEPS, "load": _MASS_STEPS}.get(kind, _COUNT_STEPS)
    length = axis.last - axis.first
    step = next((step for step in steps if length / step <= MOST_TICKS), steps[-1])
    values = range(-(-axis.first // step) * step, axis.last + 1, step)
    return tuple(Tick(value=value, at=axis.at(value)) for value in values)
