"""How long heats are forecast to hold their floor, for whoever waits behind them."""

import functools
from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from callroom.model import Event
from callroom.standards import library_with

TEAMS = 300
"""Simulated teams of each division: the middle of so many is known to a few seconds."""

SEED = 1

Paces = Mapping[tuple[str, str], Mapping[str, int]]
"""By workout and division, then part: how slow teams are, in thousandths of the model's times."""

AS_MODELLED: Paces = MappingProxyType({})


def floor_lengths(event: Event, paces: Paces = AS_MODELLED) -> Mapping[tuple[str, str], int]:
    """Return how long half of the heats hold the floor at most [s], by workout and division.

    From walk-on to kit strip. It takes some tenths of a second; the last few answers are kept.
    """
    rows = tuple(
        (workout, division, part, permille)
        for (workout, division), parts in sorted(paces.items())
        for part, permille in sorted(parts.items())
    )
    return _lengths(msgspec.msgpack.encode(event), rows)


@functools.lru_cache(maxsize=4)
def _lengths(
    encoded: bytes, rows: tuple[tuple[str, str, str, int], ...]
) -> Mapping[tuple[str, str], int]:
    import numpy as np  # noqa: PLC0415 - loaded only when asked for, as it takes its time

    from callroom.forecast import forecast_event  # noqa: PLC0415

    event = msgspec.msgpack.decode(encoded, type=Event)
    paces: dict[tuple[str, str], dict[str, int]] = {}
    for workout, division, part, permille in rows:
        paces.setdefault((workout, division), {})[part] = permille
    forecast = forecast_event(
        event,
        library_with(event.movements).movements,
        generator=np.random.default_rng(SEED),
        teams=TEAMS,
        paces=paces,
    )
    found = {
        (told.workout, told.division): told.floor_s.p50
        for told in forecast.workouts
        if told.floor_s.p50 is not None
    }
    return MappingProxyType(found)
