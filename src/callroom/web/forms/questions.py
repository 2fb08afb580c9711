"""What to ask about results that were typed, before they are kept. None of it is refused."""

import hashlib
from collections.abc import Iterator, Sequence

import msgspec

from callroom.model import Finding, ScoreSheet, SheetRef, State
from callroom.scoring import odd_result
from callroom.scoring.odd import Lane
from callroom.scoring.unlikely import Expectations, Expected, unlikely
from callroom.views.codes import CardRef
from callroom.web.forms.read_entry import PartResult

# What a card says anyway, and nobody needs to look at again.
_NO_QUESTION = frozenset({"score.nought"})


class Questions(msgspec.Struct, frozen=True, kw_only=True):
    """What is asked about a card that was typed; `mark` sent back with it means yes."""

    found: tuple[Finding, ...]
    mark: str


def questions(
    state: State, ref: CardRef, results: Sequence[PartResult], expected: Expectations
) -> tuple[Finding, ...]:
    """Return what looks wrong about what was typed for a card.

    Against itself, the cap and all there is to do; against the forecast; against what a pad or
    another card has said. In the order of the parts.
    """
    return tuple(finding for typed in results for finding in _about(state, ref, typed, expected))


def asked_mark(results: Sequence[PartResult], found: Sequence[Finding]) -> str:
    """Return a mark of these questions about these results: a yes to them is to no others."""
    said = msgspec.json.encode([results, [finding.rule for finding in found]])
    return hashlib.sha256(said).hexdigest()[:16]


def _about(
    state: State, ref: CardRef, typed: PartResult, expected: Expectations
) -> Iterator[Finding]:
    event = state.event
    team = state.teams.get(ref.team)
    if event is None or team is None:
        return
    part = event.workout(ref.workout).part(typed.part)
    lane = Lane(ref.workout, part, event.division(team.division), ref.team)
    for finding in odd_result(lane, typed.result, state.kit):
        if finding.rule not in _NO_QUESTION and finding.severity != "note":
            yield finding
    key = (ref.workout, typed.part, team.division)
    yield from unlikely(lane, typed.result, expected.get(key, Expected()))
    sheet = state.sheets.get(
        SheetRef(workout=ref.workout, part=typed.part, team=ref.team, attempt=ref.attempt).key
    )
    if sheet is not None and _differs(sheet, typed):
        yield lane.found("score.other_source")


def _differs(sheet: ScoreSheet, typed: PartResult) -> bool:
    """Whether a whole report of the lane says something else."""
    told = [kept.report.result for kept in sheet.reports if kept.complete]
    return bool(told) and typed.result not in told
