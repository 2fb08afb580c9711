"""The pace that is used for forecasts, where results have shown it."""

from collections.abc import Iterable, Mapping

import msgspec

LEAST_PERMILLE, MOST_PERMILLE = 250, 4000
"""A pace beyond four times as fast or as slow as forecast is a mistake in the data."""


class PaceInUse(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The pace of a division in a part, as the director took it over on the day.

    `permille` multiplies every time of the model: 1000 as it says, 1100 a tenth slower.
    `low_permille` and `high_permille` hold the true pace in about nine cases of ten, and
    `finished` of `teams` with a result did finish. `carried`: no team has done the part; the
    pace is what the division's other results suggest.
    """

    workout: str
    part: str
    division: str
    permille: int
    low_permille: int
    high_permille: int
    teams: int
    finished: int
    carried: bool
    seq: int
    at_ms: int


def pace_key(workout: str, part: str, division: str) -> str:
    """Return the key of a pace in the State."""
    return f"{workout}/{part}/{division}"


def by_part(paces: Iterable[PaceInUse]) -> Mapping[tuple[str, str], Mapping[str, int]]:
    """Return paces [thousandths] by workout and division, then part."""
    found: dict[tuple[str, str], dict[str, int]] = {}
    for one in paces:
        found.setdefault((one.workout, one.division), {})[one.part] = one.permille
    return found
