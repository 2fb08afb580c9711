"""What scores the forecast expects, for the desk to ask about those far from it."""

from callroom.model import Event
from callroom.model.forecast import Histogram, PartForecast
from callroom.scoring.unlikely import Expected
from callroom.standards import library_with

TEAMS = 400
SEED = 1


def expected_scores(event: Event) -> dict[tuple[str, str, str], Expected]:
    """Return what to expect by workout, part and division; it takes some tenths of a second."""
    import numpy as np  # noqa: PLC0415 - loaded only when asked for, as it takes its time

    from callroom.forecast import forecast_event, guessed_levels  # noqa: PLC0415

    forecast = forecast_event(
        event,
        library_with(event.movements).movements,
        generator=np.random.default_rng(SEED),
        teams=TEAMS,
        levels=guessed_levels(event),
    )
    return {
        (told.workout, part.part, told.division): _expected(part)
        for told in forecast.workouts
        for part in told.parts
    }


def _expected(part: PartForecast) -> Expected:
    low, high = _bounds(part.picture)
    if part.kind == "time":
        # Of those who are stopped only the tenths are known, not the least.
        return Expected(fastest_s=low, least=None, most=None)
    return Expected(least=low, most=high)


def _bounds(picture: Histogram) -> tuple[int | None, int | None]:
    if not picture.counts:
        return None, None
    return picture.start, picture.start + picture.width * len(picture.counts)
