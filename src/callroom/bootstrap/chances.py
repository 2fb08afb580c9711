"""Chances of the podium, from the results and the day's forecast.

Both work on arrays, whose library takes a second to load: it is loaded when chances are asked
for.
"""

import functools

import msgspec

from callroom.model import Event, State
from callroom.model.forecast import PartForecast
from callroom.scoring import DivisionStandings, division_scores, standings_of
from callroom.standards import library_with
from callroom.views.chances import PlayedChances, TeamChances

DRAWS = 4000
SEED = 1
TEAMS = 400
"""Simulated for the spread of results; how wide it is shows with so many already."""


def podium_chances(
    state: State, division_id: str, *, draws: int = DRAWS, seed: int = SEED
) -> PlayedChances | None:
    """Return every team's chances of the podium; the same State gives the same.

    None before the first result counts, with nothing to come, and where points hang on the
    results themselves.

    Raises
    ------
    NotFound
        If the book has no event or the event no such division.
    """
    scored = division_scores(state, division_id)
    standings = standings_of(scored)
    over = all(part.complete or part.void for part in standings.parts)
    if not standings.counted or over:
        return None
    import numpy as np  # noqa: PLC0415 - see above

    from callroom.scoring.odds import podium_odds  # noqa: PLC0415

    found = podium_odds(
        scored, _forecasts(state, standings), np.random.default_rng(seed), draws=draws
    )
    if found is None:
        return None
    return PlayedChances(
        draws=found.draws,
        in_common_percent=found.in_common_percent,
        to_come=found.to_come,
        teams=tuple(
            TeamChances(team=one.team, name=state.teams[one.team].name, places=one.places)
            for one in found.teams
        ),
    )


def _forecasts(state: State, standings: DivisionStandings) -> dict[tuple[str, str], PartForecast]:
    to_come = {part.workout for part in standings.parts if not part.complete and not part.void}
    encoded = msgspec.msgpack.encode(state.event)
    return {
        (workout, part.part): part
        for workout in to_come
        for part in _forecast(encoded, standings.division, workout)
    }


@functools.lru_cache(maxsize=16)
def _forecast(encoded: bytes, division_id: str, workout_id: str) -> tuple[PartForecast, ...]:
    """Return how the results of a workout's parts spread; kept, as events hardly change."""
    import numpy as np  # noqa: PLC0415 - see above

    from callroom.forecast import forecast_workout, guessed_levels  # noqa: PLC0415

    event = msgspec.msgpack.decode(encoded, type=Event)
    workout = event.workout(workout_id)
    return forecast_workout(
        workout,
        event.division(division_id),
        library_with(event.movements).movements,
        generator=np.random.default_rng(SEED),
        lanes=len(event.floor(workout.floor).open_lanes),
        level=guessed_levels(event)[division_id],
        teams=TEAMS,
    ).parts
