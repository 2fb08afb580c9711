"""Every heat by what its scores still need, and what fits nowhere or looks odd."""

from collections.abc import Iterable

import msgspec

from callroom.model import Finding, Heat, KeptReport, SheetRef, State
from callroom.model.lanes import LanePart, lane_states
from callroom.scoring import odd_scores
from callroom.views.masthead import published
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import CREW, HeatSlot, WorkoutTitle, heat_slot, workout_title
from callroom.views.work import PartWork, part_work


class OpenLane(msgspec.Struct, frozen=True, kw_only=True):
    """A lane of which a score is missing, with the attempt it is missing of."""

    lane: int
    team: str
    name: str
    attempt: int


class HeatLine(msgspec.Struct, frozen=True, kw_only=True):
    """A heat in a list: how many of its scores are in, missing, in dispute.

    `open` are the lanes of which something is missing, by lane.
    """

    slot: HeatSlot
    floor: str
    scores: int
    missing: int
    disputed: int
    open: tuple[OpenLane, ...]


class ScoreList(msgspec.Struct, frozen=True, kw_only=True):
    """Every heat of the day by what its scores still need; those of void workouts need nothing.

    `to_enter`: began or ended, something missing; `to_settle`: two reports; `to_confirm`:
    complete; `confirmed`; `to_come`: not yet on the floor, and nothing handed in.
    `unplaced` are reports that fit nowhere and count for nothing, `odd` what is odd about
    scores that count and that nobody has confirmed.
    """

    head: PageHead
    to_enter: tuple[HeatLine, ...]
    to_settle: tuple[HeatLine, ...]
    to_confirm: tuple[HeatLine, ...]
    confirmed: tuple[HeatLine, ...]
    to_come: tuple[HeatLine, ...]
    unplaced: tuple["Unplaced", ...]
    odd: tuple["OddScore", ...]


class OddScore(msgspec.Struct, frozen=True, kw_only=True):
    """Something odd about a score, to be looked at on the card."""

    ref: SheetRef
    finding: Finding


class Unplaced(msgspec.Struct, frozen=True, kw_only=True):
    """A report without a place: where it says it belongs, as far as that exists."""

    kept: KeptReport
    workout: WorkoutTitle | None
    team: str
    work: PartWork | None


def score_list(state: State) -> ScoreList:
    """Return every heat by what its scores still need; empty without a plan."""
    lines: dict[str, list[HeatLine]] = {}
    heats = state.plan.heats if state.plan is not None else ()
    for heat in sorted(heats, key=lambda heat: (heat.start_s, heat.id)):
        if state.is_void(heat.workout):
            continue
        line = heat_line(state, heat)
        lines.setdefault(_need(line), []).append(line)

    def those(need: str) -> tuple[HeatLine, ...]:
        return tuple(lines.get(need, ()))

    return ScoreList(
        head=page_head(state),
        to_enter=those("enter"),
        to_settle=those("settle"),
        to_confirm=those("confirm"),
        confirmed=those("nothing"),
        to_come=those("wait"),
        unplaced=unplaced(state),
        odd=odd(state),
    )


def heat_line(state: State, heat: Heat) -> HeatLine:
    """Return one heat with the count of its scores."""
    event, _ = published(state)
    lanes = lane_states(state, heat)
    return HeatLine(
        slot=heat_slot(state, heat),
        floor=event.floor(heat.floor).name,
        scores=sum(lane.state != "missing" for lane in lanes),
        missing=sum(lane.state == "missing" for lane in lanes),
        disputed=sum(lane.state == "two_reports" for lane in lanes),
        open=_open(state, heat, lanes),
    )


def _open(state: State, heat: Heat, lanes: Iterable[LanePart]) -> tuple[OpenLane, ...]:
    missing = dict.fromkeys((one.team, one.attempt) for one in lanes if one.state == "missing")
    found = (
        OpenLane(
            lane=heat.lane_of(team) or 0, team=team, name=state.teams[team].name, attempt=attempt
        )
        for team, attempt in missing
    )
    return tuple(sorted(found, key=lambda one: (one.lane, one.attempt)))


def unplaced(state: State) -> tuple[Unplaced, ...]:
    """Return the reports that fit nowhere, the oldest first."""
    return tuple(_unplaced(state, kept) for kept in sorted(state.unplaced.values(), key=_seq_of))


def odd(state: State) -> tuple[OddScore, ...]:
    """Return what is odd about scores nobody has confirmed; a nought alone is not."""
    if state.event is None:
        return ()
    found = []
    for finding in odd_scores(state):
        facts = finding.facts
        ref = SheetRef(
            workout=str(facts["workout"]), part=str(facts["part"]), team=str(facts["team"])
        )
        sheet = state.sheets.get(ref.key)
        settled = sheet is not None and sheet.confirmed_seq is not None
        if finding.severity != "note" and not settled:
            found.append(OddScore(ref=ref, finding=finding))
    return tuple(found)


def _seq_of(kept: KeptReport) -> int:
    return kept.seq


def _unplaced(state: State, kept: KeptReport) -> Unplaced:
    event, report = state.event, kept.report
    team = state.teams.get(report.team)
    workouts = event.workouts if event is not None else ()
    workout = next((one for one in workouts if one.id == report.workout), None)
    part = next((one for one in workout.parts if one.id == report.part), None) if workout else None
    known = event is not None and workout is not None
    return Unplaced(
        kept=kept,
        workout=workout_title(event, workout, CREW) if known and event and workout else None,
        team=team.name if team is not None else report.team,
        work=part_work(part, event.division(team.division)) if part and team and event else None,
    )


def _need(line: HeatLine) -> str:
    if line.slot.stage == "confirmed":
        return "nothing"
    if line.disputed:
        return "settle"
    if not line.missing:
        return "confirm"
    if line.slot.stage in {"started", "finished"} or line.scores:
        return "enter"
    return "wait"
