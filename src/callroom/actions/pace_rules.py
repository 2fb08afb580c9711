"""Rules for the pace of forecasts: of a part and division there are, and not absurd."""

from callroom.actions.case import Case
from callroom.journal.entries import pace_bodies
from callroom.model import Refusal
from callroom.model.pace import LEAST_PERMILLE, MOST_PERMILLE, pace_key


def pace_taken(case: Case, body: pace_bodies.PaceTaken) -> None:
    """A pace within bounds, inside its own interval, of a part that the event has."""
    case.need_part(body.workout, body.part)
    if body.division not in {division.id for division in case.event.divisions}:
        raise Refusal("division.unknown", division=body.division)
    inside = body.low_permille <= body.permille <= body.high_permille
    if not inside or not LEAST_PERMILLE <= body.permille <= MOST_PERMILLE:
        raise Refusal(
            "pace.absurd", permille=body.permille, least=LEAST_PERMILLE, most=MOST_PERMILLE
        )


def pace_dropped(case: Case, body: pace_bodies.PaceDropped) -> None:
    """Only a pace in use can be dropped."""
    if pace_key(body.workout, body.part, body.division) not in case.state.paces:
        raise Refusal("pace.not_in_use", workout=body.workout, division=body.division)
