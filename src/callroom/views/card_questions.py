"""What to ask about results that were typed from a card, before they are kept.

None of it is refused: a card may say what nobody expects.
"""

from collections.abc import Iterator, Mapping

from callroom.model import Finding, Result, ScoreSheet, SheetRef, State
from callroom.scoring import odd_result
from callroom.scoring.odd import Lane
from callroom.scoring.unlikely import NOTHING_EXPECTED, Expectations, Expected, unlikely
from callroom.views.codes import CardRef

__all__ = ["NOTHING_EXPECTED", "Expectations", "card_questions"]


def card_questions(
    state: State, ref: CardRef, results: Mapping[str, Result], expected: Expectations
) -> tuple[Finding, ...]:
    """Return what looks wrong about the `results` typed for a card, by part, in their order.

    Against itself, the cap and all there is to do; against the forecast; against what a pad or
    another card has said.
    """
    return tuple(
        finding
        for part, result in results.items()
        for finding in _about(state, ref, part, result, expected)
    )


def _about(
    state: State, ref: CardRef, part_id: str, result: Result, expected: Expectations
) -> Iterator[Finding]:
    event = state.event
    team = state.teams.get(ref.team)
    if event is None or team is None:
        return
    part = event.workout(ref.workout).part(part_id)
    lane = Lane(ref.workout, part, event.division(team.division), ref.team)
    yield from (
        finding for finding in odd_result(lane, result, state.kit) if finding.severity != "note"
    )
    key = (ref.workout, part_id, team.division)
    yield from unlikely(lane, result, expected.get(key, Expected()))
    sheet = state.sheets.get(
        SheetRef(workout=ref.workout, part=part_id, team=ref.team, attempt=ref.attempt).key
    )
    if sheet is not None and _differs(sheet, result):
        yield lane.found("score.other_source")


def _differs(sheet: ScoreSheet, result: Result) -> bool:
    """Whether a whole report of the lane says something else."""
    told = [kept.report.result for kept in sheet.reports if kept.complete]
    return bool(told) and result not in told
