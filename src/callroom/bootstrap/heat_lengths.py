"""How long heats are forecast to hold their floor, for whoever waits behind them."""

import functools
from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from callroom.bootstrap.pace_rows import AS_MODELLED, Paces, Rows, frozen, thawed
from callroom.model import Event
from callroom.standards import library_with

TEAMS = 300
"""Simulated teams of each division: the middle of so many is known to a few seconds."""

SEED = 1


def floor_lengths(event: Event, paces: Paces = AS_MODELLED) -> Mapping[tuple[str, str], int]:
    """Return how long half of the heats hold the floor at most [s], by workout and division.

    From walk-on to kit strip. It takes some tenths of a second; the last few answers are kept.
    """
    return _lengths(msgspec.msgpack.encode(event), frozen(paces))


@functools.lru_cache(maxsize=4)
def _lengths(encoded: bytes, rows: Rows) -> Mapping[tuple[str, str], int]:
    import numpy as np  # noqa: PLC0415 - loaded only when asked for, as it takes its time

    from callroom.forecast import forecast_event  # noqa: PLC0415

    event = msgspec.msgpack.decode(encoded, type=Event)
    forecast = forecast_event(
        event,
        library_with(event.movements).movements,
        generator=np.random.default_rng(SEED),
        teams=TEAMS,
        paces=thawed(rows),
    )
    found = {
        (told.workout, told.division): told.floor_s.p50
        for told in forecast.workouts
        if told.floor_s.p50 is not None
    }
    return MappingProxyType(found)
