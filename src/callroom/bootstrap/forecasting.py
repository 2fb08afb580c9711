"""Running the forecast of a day, for pages and commands.

The forecast works on arrays, and their library takes a second to load: it is loaded when a
forecast is asked for, so that nothing else waits for it.
"""

import functools
import threading
from collections.abc import Mapping

import msgspec

from callroom.bootstrap.pace_rows import AS_MODELLED, Paces, Rows, frozen, thawed
from callroom.model import Event, Refusal, State
from callroom.model.forecast import Forecast, LoadAdvice
from callroom.model.pace import by_part
from callroom.standards import library_with
from callroom.views.forecast import ASKED_PERCENT, DayForecast, day_forecast

TEAMS = 2000
LEAST_TEAMS, MOST_TEAMS = 20, 20_000
DRAFT_TEAMS = 300
SEED = 1
SEARCHED_TEAMS = 500
"""Loads are looked for with fewer teams: a step of 2.5 kg hides the difference."""

# One at a time: two would only slow each other down, and the same one is asked for twice.
_RUNNING = threading.Lock()


def forecast_of(state: State, *, teams: int = TEAMS, seed: int = SEED) -> DayForecast:
    """Return the forecast of a book's event.

    Raises
    ------
    Refusal
        If the book has no event.
    """
    if state.event is None:
        raise Refusal("book.no_event")
    return forecast_day(state.event, teams=teams, seed=seed, paces=by_part(state.paces.values()))


def forecast_day(
    event: Event, *, teams: int = TEAMS, seed: int = SEED, paces: Paces = AS_MODELLED
) -> DayForecast:
    """Return the forecast of `event`; the same one for the same event, teams and seed.

    It takes about a second for a usual day of 2,000 teams, so a face runs it in a thread. The
    last few answers are kept.

    Parameters
    ----------
    teams
        How many teams of each division are simulated.
    seed
        Of everything that is drawn by chance.
    paces
        What results have shown of the pace; see :class:`callroom.model.pace.PaceInUse`.
    """
    with _RUNNING:
        return _forecast(msgspec.msgpack.encode(event), teams, seed, paces=frozen(paces))


def forecast_draft(event: Event, workout_id: str) -> DayForecast:
    """Return the forecast of one workout of `event` alone, quickly, while it is being built.

    The athletes are taken to be as good as the loads of the whole event tell. What its
    programme says is about this workout alone.
    """
    with _RUNNING:
        return _forecast(msgspec.msgpack.encode(event), DRAFT_TEAMS, SEED, workout_id)


@functools.lru_cache(maxsize=8)
def _forecast(
    encoded: bytes, teams: int, seed: int, only: str = "", paces: Rows = ()
) -> DayForecast:
    import numpy as np  # noqa: PLC0415 - see above

    from callroom.forecast import (  # noqa: PLC0415
        check_programme,
        forecast_event,
        guessed_levels,
    )

    event = msgspec.msgpack.decode(encoded, type=Event)
    movements = library_with(event.movements).movements
    levels = guessed_levels(event)
    if only:
        event = msgspec.structs.replace(event, workouts=(event.workout(only),))
    forecast = forecast_event(
        event,
        movements,
        generator=np.random.default_rng(seed),
        teams=teams,
        levels=levels,
        paces=thawed(paces),
    )
    programmes = {
        division.id: check_programme(event, division, movements, forecast)
        for division in event.divisions
    }
    lighter = _lighter(event, forecast, levels, seed)
    return day_forecast(event, forecast, programmes, lighter, seed=seed)


def _lighter(
    event: Event, forecast: Forecast, levels: Mapping[str, float], seed: int
) -> dict[tuple[str, str, str], tuple[LoadAdvice, ...]]:
    """Return the loads that would let enough teams finish, where too few do."""
    import numpy as np  # noqa: PLC0415

    from callroom.forecast import advise  # noqa: PLC0415

    movements = library_with(event.movements).movements
    found = {}
    for told in forecast.workouts:
        for part in told.parts:
            if part.kind != "time" or part.under_cap_percent >= ASKED_PERCENT:
                continue
            found[told.workout, part.part, told.division] = advise(
                event.workout(told.workout),
                part.part,
                event.division(told.division),
                movements,
                generator=np.random.default_rng(seed),
                level=levels[told.division],
                target_percent=ASKED_PERCENT,
                teams=min(told.teams, SEARCHED_TEAMS),
            ).loads
    return found
