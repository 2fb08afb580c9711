"""What entries about the pace of forecasts carry."""

from callroom.journal.entries.bodies import Body


class PaceTaken(Body, frozen=True):
    """From now on forecasts of a part are made with this pace; see ``model.pace.PaceInUse``."""

    workout: str
    part: str
    division: str
    permille: int
    low_permille: int
    high_permille: int
    teams: int
    finished: int
    carried: bool = False


class PaceDropped(Body, frozen=True):
    """Forecasts of a part are made as the model says again."""

    workout: str
    part: str
    division: str
