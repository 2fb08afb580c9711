"""What people do in a rehearsal about what goes wrong, each as a moment of the script."""

import msgspec

from callroom.actions.cue import SEND_AFTER_MS, Cue, judge_cue
from callroom.actions.day import choose_report, correct_score, report_score
from callroom.actions.mishaps import Mishaps, other_result
from callroom.actions.planned import note_loss, repair_plan
from callroom.actions.request import Request, propose
from callroom.actions.verdicts import decide_appeal, make_appeal
from callroom.model import Event, Heat, Result, ScoreReport, SheetRef, State, milliseconds


def settled_cues(heat: Heat, cues: list[Cue], wrong: Mishaps) -> list[Cue]:
    """Return a card that says something else and who decides, or a correction."""
    told = [
        (cue.at_ms, body)
        for cue in cues
        for body in cue.request.proposals
        if isinstance(body, ScoreReport) and body.source == "pad"
    ]
    last_ms = max((at_ms for at_ms, _ in told), default=0)
    for _, report in told:
        other = other_result(report.result)
        if other is None:
            continue
        if heat.id == wrong.two_reports:
            return _two_reports(report, other, last_ms)
        if heat.id == wrong.corrected:
            fixed = correct_score(_sheet_of(report), other, "Added up again with the captain.")
            return [judge_cue(last_ms + 5 * SEND_AFTER_MS, fixed)]
    return []


def _two_reports(report: ScoreReport, other: Result, last_ms: int) -> list[Cue]:
    card = msgspec.structs.replace(report, source="paper", result=other)
    typed_ms = last_ms + 4 * SEND_AFTER_MS
    return [
        Cue(at_ms=typed_ms, role="desk", post="desk", request=report_score(card)),
        Cue(
            at_ms=typed_ms + SEND_AFTER_MS,
            role="head_judge",
            post="head_judge",
            request=propose(),
            later=lambda state: _choose_the_pad(state, report),
        ),
    ]


def _choose_the_pad(state: State, report: ScoreReport) -> Request:
    """Return the head judge's choice of what the pad has counted."""
    ref = _sheet_of(report)
    sheet = state.sheets[ref.key]
    pads = [kept.seq for kept in sheet.reports if kept.report.source == "pad"]
    return choose_report(ref, pads[0], {})


def _sheet_of(report: ScoreReport) -> SheetRef:
    return SheetRef(
        workout=report.workout, part=report.part, team=report.team, attempt=report.attempt
    )


def trouble_cues(state: State, event: Event, wrong: Mishaps, posted_ms: int) -> list[Cue]:
    """Return the lost lane with its mending, and an appeal once standings are posted."""
    cues: list[Cue] = []
    plan, lost = state.plan, wrong.lost
    if plan is not None and lost is not None:
        why = "A bar in this lane is bent."
        noted = note_loss("lane", why, floor=lost.floor, lane=lost.lane)
        repaired = repair_plan(plan, wrong.plan, why)
        at_ms = milliseconds(event.instant(lost.at_s)) - 60_000
        cues += [
            Cue(at_ms=at_ms + step, role="director", post="director", request=asked)
            for step, asked in enumerate((noted, repaired))
        ]
    if wrong.corrected:
        cues += _appeal_cues(state, posted_ms)
    return cues


def _appeal_cues(state: State, posted_ms: int) -> list[Cue]:
    team = min(team for team in state.teams if team not in state.team_status)
    made_ms, number = posted_ms + 120_000, 1 + len(state.appeals)
    text = "We have two more than the card says."
    made = make_appeal(team, text, ground="arithmetic", handed_in_ms=made_ms)
    decided = decide_appeal(
        number, "The card was added up again: it is right.", upheld=False, basis={}
    )
    return [
        Cue(at_ms=made_ms, role="desk", post="desk", request=made),
        judge_cue(made_ms + 240_000, decided),
    ]
