"""Holding the forecast against the day's results, for the director's page."""

import functools
import threading
from collections.abc import Iterable

import msgspec

from callroom.bootstrap.pace_rows import Rows, thawed
from callroom.model import CallroomError, Event, Refusal, State
from callroom.model.forecast import Forecast, Pace
from callroom.model.pace import pace_key
from callroom.standards import library_with
from callroom.views.calibration import Calibration, Comparison, calibration
from callroom.views.recorded import Recorded, nothing_recorded, recorded

TEAMS = 1000
"""Simulated teams of each division: the middle of the forecast is known to half a per cent."""

SEED = 1

# One at a time: two would only slow each other down, and the same one is asked for twice.
_RUNNING = threading.Lock()


def calibration_of(state: State, *, teams: int = TEAMS) -> Calibration:
    """Return what the results of a book say of its forecast; it takes about a second.

    Raises
    ------
    Refusal
        If the book has no event.
    """
    event = state.event
    if event is None:
        raise Refusal("book.no_event")
    done = recorded(state)
    encoded = msgspec.msgpack.encode(event)
    with _RUNNING:
        before = _forecast(encoded, teams, ())
        paces = _paces(event, done, before)
        after = _forecast(encoded, teams, _rows(paces.values()))
    listed = sorted(
        (*done, *nothing_recorded(event, done)),
        key=lambda one: [workout.id for workout in event.workouts].index(one.workout),
    )
    told = Comparison(done=tuple(listed), paces=paces, before=before, after=after)
    return calibration(state, event, told)


def carried_from(finished: State, state: State, *, teams: int = TEAMS) -> tuple[Pace, ...]:
    """Return what the results of one book suggest for another: next year's, of the same gym.

    Divisions are the same if their ids are. Workouts need not be: as for a part that nobody
    has done yet, the division's measured paces are carried over.

    Raises
    ------
    Refusal
        If either book has no event.
    """
    event = state.event
    if event is None:
        raise Refusal("book.no_event")
    measured = [one.pace for one in calibration_of(finished, teams=teams).measured]
    found = (
        carry_over_to(one, [pace for pace in measured if pace is not None])
        for one in nothing_recorded(event, ())
    )
    return tuple(pace for pace in found if pace is not None)


def carry_over_to(one: Recorded, measured: list[Pace]) -> Pace | None:
    """Return what the paces measured of a division suggest for a part; None without any."""
    from callroom.forecast import carry_over  # noqa: PLC0415 - as in `_forecast`

    known = [pace for pace in measured if pace.division == one.division]
    return carry_over(known, workout=one.workout, part=one.part)


def _paces(event: Event, done: tuple[Recorded, ...], before: Forecast) -> dict[str, Pace]:
    """Return the pace of every part that results tell, or let guess, by its key."""
    from callroom.forecast import calibrate  # noqa: PLC0415 - as in `_forecast`

    measured: dict[str, Pace] = {}
    for one in done:
        forecast = before.of(one.workout, one.division)
        try:
            pace = calibrate(forecast, one.part, finished=one.values, stopped=one.stopped)
        except CallroomError:
            continue  # too few have finished to tell
        measured[pace_key(one.workout, one.part, one.division)] = pace
    found = dict(measured)
    for one in nothing_recorded(event, done):
        carried = carry_over_to(one, list(measured.values()))
        if carried is not None:
            found[pace_key(one.workout, one.part, one.division)] = carried
    return found


def _rows(paces: Iterable[Pace]) -> Rows:
    return tuple(sorted((one.workout, one.division, one.part, one.permille) for one in paces))


@functools.lru_cache(maxsize=4)
def _forecast(encoded: bytes, teams: int, rows: Rows) -> Forecast:
    import numpy as np  # noqa: PLC0415 - loaded only when asked for, as it takes its time

    from callroom.forecast import forecast_event  # noqa: PLC0415

    event = msgspec.msgpack.decode(encoded, type=Event)
    return forecast_event(
        event,
        library_with(event.movements).movements,
        generator=np.random.default_rng(SEED),
        teams=teams,
        paces=thawed(rows),
    )
