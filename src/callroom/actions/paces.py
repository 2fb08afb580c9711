"""What is asked about the pace of forecasts, each as the request it makes."""

from collections.abc import Iterable, Mapping

from callroom.actions.request import Request, propose
from callroom.journal.entries import pace_bodies
from callroom.model.forecast import Pace
from callroom.model.pace import PaceInUse


def take_paces(
    measured: Iterable[Pace], carried: Iterable[Pace] = (), basis: Mapping[str, int] | None = None
) -> Request:
    """Make the forecasts of the rest of the day with these paces."""
    taken = [_taken(one, carried=False) for one in measured]
    return propose(*taken, *(_taken(one, carried=True) for one in carried), basis=basis)


def _taken(pace: Pace, *, carried: bool) -> pace_bodies.PaceTaken:
    return pace_bodies.PaceTaken(
        workout=pace.workout,
        part=pace.part,
        division=pace.division,
        permille=pace.permille,
        low_permille=pace.low_permille,
        high_permille=pace.high_permille,
        teams=pace.teams,
        finished=pace.finished,
        carried=carried,
    )


def drop_paces(paces: Iterable[PaceInUse], basis: Mapping[str, int] | None = None) -> Request:
    """Make forecasts as the model says again."""
    dropped = [
        pace_bodies.PaceDropped(workout=one.workout, part=one.part, division=one.division)
        for one in paces
    ]
    return propose(*dropped, basis=basis)
