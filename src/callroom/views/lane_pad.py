"""The lane pad: what a judge's phone must know to count one lane without any network."""

import itertools
from urllib.parse import quote

import msgspec

from callroom.model import (
    Event,
    Heat,
    HeatRun,
    NotFound,
    Part,
    Ruling,
    State,
    Team,
    clock_spans,
    milliseconds,
)
from callroom.model.lanes import attempts
from callroom.model.mass import MassUnit
from callroom.model.movement import Cost
from callroom.model.steps import Step, steps, total_counts
from callroom.model.workout import Unit
from callroom.views import wording, work_wording
from callroom.views.clock_wording import FaceSpan, face_spans
from callroom.views.codes import CardRef, card_code, spaced
from callroom.views.line_ups import line_up_changes, line_up_for, place_said
from callroom.views.rulings import unseen_rulings
from callroom.views.work import WorkRow, part_work
from callroom.views.work_wording import Speech

# An hour without a network is about four heats of one floor; two to spare.
_AHEAD = 6


class PadStep(msgspec.Struct, frozen=True, kw_only=True):
    """One task of one round as the pad shows it; see :class:`callroom.model.steps.Step`.

    `carried`: one object that may be handed over, so that the pad asks who has it.
    """

    task: str
    round_number: int
    strand: int
    says: str
    minds: tuple[str, ...]
    counts: int
    mark: int
    unit: Unit
    carried: bool
    split: bool


class PadReason(msgspec.Struct, frozen=True, kw_only=True):
    """A reason not to count, as it stands on a key, and what it costs the team."""

    label: str
    cost: Cost


class PadRound(msgspec.Struct, frozen=True, kw_only=True):
    """One round of one block: its number and how many there are.

    `repeats`: it is done again and again until time is up, and only this one is listed.
    """

    block: str
    name: str
    number: int
    of: int
    steps: tuple[PadStep, ...]
    repeats: bool


class PadLift(msgspec.Struct, frozen=True, kw_only=True):
    """A lift that is scored: how it is called and how many tries there are (0: any)."""

    task: str
    says: str
    tries: int


class PadPart(msgspec.Struct, frozen=True, kw_only=True):
    """A scored part: its clock [ms], its rounds in order, and what is to be stamped."""

    id: str
    name: str
    kind: str
    cap_ms: int
    starts_ms: int
    total: int | None
    rounds: tuple[PadRound, ...]
    lifts: tuple[PadLift, ...]
    split_wanted: bool
    split_each_round: bool


class PadNext(msgspec.Struct, frozen=True, kw_only=True):
    """A later heat on the same floor, in the same lane: the path of its pad, and who it is."""

    path: str
    heat_number: int
    workout_name: str
    team_name: str


class LanePad(msgspec.Struct, frozen=True, kw_only=True):
    """Everything about one lane of one heat.

    `reasons` gives the no-reps by task, `places` those of the line-up, which `line_up` says in
    short where it is not as entered, `clock` the stretches
    of the heat's clock, `card` the code of the paper card of this lane; `next` the
    coming heats in it, to be kept ready for when there is no network.
    """

    heat: str
    heat_number: int
    workout: str
    workout_name: str
    floor: str
    lane: int
    team: str
    team_name: str
    division: str
    attempt: int
    amendment: int
    revision: int
    start_ms: int
    mass_unit: MassUnit
    parts: tuple[PadPart, ...]
    reasons: dict[str, tuple[PadReason, ...]]
    places: tuple[str, ...]
    line_up: tuple[str, ...]
    clock: tuple[FaceSpan, ...]
    card: str
    next: tuple[PadNext, ...]
    rehearsal: bool


class PadRuling(msgspec.Struct, frozen=True, kw_only=True):
    """A ruling that this device has yet to acknowledge, by the entry `seq`.

    `about`: the workout and movement by name, empty for all; `withdrawn`: it holds no more,
    and the answer says why.
    """

    number: int
    seq: int
    about: str
    question: str
    answer: str
    withdrawn: bool


class PadOther(msgspec.Struct, frozen=True, kw_only=True):
    """Another device that has this lane open, and what it has counted in a part."""

    part: str
    done: int


class PadNow(msgspec.Struct, frozen=True, kw_only=True):
    """What may change under a pad: the server's time, and how far the heat is [ms, UTC].

    `team` is who the plan now has in the lane (empty: nobody), `attempt` which of its
    attempts is to be counted, `amendment` by which the workout now stands; `other_reports` how many reports of it other devices have
    sent, `others` which have the lane open; `rulings` what this device has yet to acknowledge.
    A re-run has a clock of its own. `held_ms` is where the clock was held, `stopped` why it
    was stopped before its end. `generation`: how many laptops have had this book; when another
    one carries on from a copy, a pad sends again what arrived last.
    """

    now_ms: int
    stage: str
    zero_ms: int | None
    held_ms: int | None
    stopped: str
    team: str
    attempt: int
    amendment: int
    revision: int
    other_reports: int
    others: tuple[PadOther, ...]
    generation: int
    rulings: tuple[PadRuling, ...]
    line_up: tuple[str, ...] = ()


def lane_pad(state: State, heat_id: str, lane: int, speech: Speech) -> LanePad:
    """Return the pad of one lane.

    Raises
    ------
    NotFound
        If the plan has no such heat, or nobody in that lane.
    """
    event, heat, team = _placed(state, heat_id, lane)
    workout = event.workout(heat.workout)
    division = event.division(team.division)
    works = {part.id: part_work(part, division) for part in workout.parts}
    rows = {
        row.task.id: row for work in works.values() for block in work.blocks for row in block.rows
    }
    parts = tuple(
        _part(part, steps(part, division), total_counts(part, division), rows, speech)
        for part in workout.parts
    )
    return LanePad(
        heat=heat.id,
        heat_number=heat.number,
        workout=workout.id,
        workout_name=workout.name,
        floor=event.floor(heat.floor).name,
        lane=lane,
        team=team.id,
        team_name=team.name,
        division=division.name,
        attempt=attempts(state, workout.id, team.id),
        amendment=state.amendment_number(workout.id),
        revision=state.plan.revision if state.plan is not None else 0,
        start_ms=milliseconds(event.instant(heat.start_s)),
        mass_unit=event.mass_unit,
        parts=parts,
        reasons={task: reasons for task, row in rows.items() if (reasons := _reasons(row, speech))},
        places=tuple(one.place for one in line_up_for(state, event, workout.id, team)),
        line_up=_line_up_said(state, event, workout.id, team),
        clock=face_spans(clock_spans(workout), speech.words),
        card=_card(state, event, workout.id, team.id),
        next=_next(state, event, heat, lane),
        rehearsal=state.rehearsal,
    )


def pad_now(
    state: State,
    heat_id: str,
    lane: int,
    *,
    device: str,
    now_ms: int,
    speech: Speech,
    others: tuple[PadOther, ...] = (),
) -> PadNow:
    """Return what may have changed under a pad; a heat that is gone has nobody in its lanes."""
    heats = state.plan.heats if state.plan is not None else ()
    heat = next((heat for heat in heats if heat.id == heat_id), None)
    run = state.heat_run(heat_id)
    team = next((place.team for place in heat.lanes if place.lane == lane), "") if heat else ""
    attempt = attempts(state, heat.workout, team) if heat is not None else 1
    reported = {
        kept.device
        for sheet in (state.sheets.values() if heat is not None else ())
        if heat is not None
        and (sheet.workout, sheet.team, sheet.attempt) == (heat.workout, team, attempt)
        for kept in sheet.reports
        if kept.report.source == "pad" and kept.device != device
    }
    return PadNow(
        now_ms=now_ms,
        stage=run.stage,
        zero_ms=run.started_ms if attempt == 1 else _rerun_zero(state, heat, team, attempt),
        held_ms=_held_ms(run) if attempt == 1 else None,
        stopped=run.stop.reason if run.stop is not None and attempt == 1 else "",
        team=team,
        attempt=attempt,
        amendment=state.amendment_number(heat.workout) if heat is not None else 0,
        revision=state.plan.revision if state.plan is not None else 0,
        other_reports=len(reported),
        others=others,
        generation=state.generation,
        rulings=tuple(_ruling(state, ruling, speech) for ruling in unseen_rulings(state, device)),
        line_up=_line_up_now(state, heat, team),
    )


def _line_up_now(state: State, heat: Heat | None, team_id: str) -> tuple[str, ...]:
    team = state.teams.get(team_id)
    if state.event is None or heat is None or team is None:
        return ()
    return _line_up_said(state, state.event, heat.workout, team)


def _line_up_said(state: State, event: Event, workout: str, team: Team) -> tuple[str, ...]:
    """Return the line-up if it is not as entered: a small screen has no room for what is usual."""
    if not line_up_changes(state, event, workout, team):
        return ()
    return tuple(place_said(one) for one in line_up_for(state, event, workout, team))


def _held_ms(run: HeatRun) -> int | None:
    return run.stop.at_ms if run.stop is not None else run.finished_ms


def _rerun_zero(state: State, heat: Heat | None, team: str, attempt: int) -> int | None:
    reruns = state.reruns.get(f"{heat.workout}/{team}", ()) if heat is not None else ()
    return next((rerun.started_ms for rerun in reruns if rerun.attempt == attempt), None)


def _ruling(state: State, ruling: Ruling, speech: Speech) -> PadRuling:
    workouts = state.event.workouts if state.event is not None else ()
    named = [workout.name for workout in workouts if workout.id == ruling.workout]
    if ruling.movement:
        named.append(wording.movement(ruling.movement, speech.catalogue))
    return PadRuling(
        number=ruling.number,
        seq=ruling.news_seq,
        about=wording.joined_by_dots(named),
        question=ruling.question,
        answer=ruling.answer if ruling.in_force else ruling.withdrawn_for,
        withdrawn=not ruling.in_force,
    )


def _placed(state: State, heat_id: str, lane: int) -> tuple[Event, Heat, Team]:
    if state.event is None or state.plan is None:
        raise NotFound("plan.none")
    heat = next((heat for heat in state.plan.heats if heat.id == heat_id), None)
    if heat is None:
        raise NotFound("heat.unknown", heat=heat_id)
    team = next((place.team for place in heat.lanes if place.lane == lane), None)
    if team is None or team not in state.teams:
        raise NotFound("lane.empty", heat=heat_id, lane=lane)
    return state.event, heat, state.teams[team]


def _part(
    part: Part,
    listed: tuple[Step, ...],
    total: int | None,
    rows: dict[str, WorkRow],
    speech: Speech,
) -> PadPart:
    counted = [step for step in listed if step.unit != "lift"]
    lifts = {step.task: rows[step.task] for step in listed if step.unit == "lift"}
    return PadPart(
        id=part.id,
        name=part.name or part.id,
        kind=part.kind,
        cap_ms=part.cap_s * 1000,
        starts_ms=part.starts_s * 1000,
        total=total,
        rounds=_rounds(part, counted, rows, speech),
        lifts=tuple(
            PadLift(
                task=task,
                says=_lift_says(row, speech),
                tries=row.task.tries,
            )
            for task, row in lifts.items()
        ),
        split_wanted=part.tiebreak is not None,
        split_each_round=part.tiebreak is not None and part.tiebreak.after == "round",
    )


def _rounds(
    part: Part, listed: list[Step], rows: dict[str, WorkRow], speech: Speech
) -> tuple[PadRound, ...]:
    grouped: dict[tuple[str, int], list[Step]] = {}
    for step in listed:
        grouped.setdefault((step.block, step.round_number), []).append(step)
    blocks = {block.id: block for block in part.blocks}
    return tuple(
        PadRound(
            block=block,
            name=blocks[block].name,
            number=number,
            of=blocks[block].rounds,
            steps=tuple(_step(step, rows[step.task], speech) for step in group),
            repeats=group[0].open_ended,
        )
        for (block, number), group in grouped.items()
    )


def _step(step: Step, row: WorkRow, speech: Speech) -> PadStep:
    amount = work_wording.amount(row, step.round_number - 1, speech)
    movement = work_wording.movement_name(row.task, speech)
    settings = work_wording.settings(row, speech)
    last = step.round_number == len(row.amounts) or step.open_ended
    return PadStep(
        task=step.task,
        round_number=step.round_number,
        strand=step.strand,
        says=f"{amount} {movement}".strip(),
        minds=tuple(text for text in (*settings, *work_wording.reminders(row, speech)) if text),
        counts=step.counts,
        mark=step.mark,
        unit=step.unit,
        carried=row.task.sharing == "carry",
        split=row.split and last,
    )


def _reasons(row: WorkRow, speech: Speech) -> tuple[PadReason, ...]:
    known = speech.catalogue.get(row.task.movement)
    costs = {reason.label: reason.cost for reason in known.no_reps} if known is not None else {}
    return tuple(
        PadReason(label=label, cost=costs.get(label, "repetition"))
        for label in work_wording.no_rep_reasons(row, speech)
    )


def _next(state: State, event: Event, heat: Heat, lane: int) -> tuple[PadNext, ...]:
    heats = state.plan.heats if state.plan is not None else ()
    later = sorted(
        (one for one in heats if one.floor == heat.floor and one.start_s > heat.start_s),
        key=lambda one: (one.start_s, one.id),
    )
    found = (
        PadNext(
            path=f"/pad/{quote(one.id, safe='')}/{lane}",
            heat_number=one.number,
            workout_name=event.workout(one.workout).name,
            team_name=state.teams[place.team].name,
        )
        for one in later
        for place in one.lanes
        if place.lane == lane and place.team in state.teams
    )
    return tuple(itertools.islice(found, _AHEAD))


def _card(state: State, event: Event, workout_id: str, team_id: str) -> str:
    ref = CardRef(
        workout=workout_id,
        team=team_id,
        attempt=attempts(state, workout_id, team_id),
        amendment=state.amendment_number(workout_id),
    )
    return spaced(card_code(event.id, ref, rehearsal=state.rehearsal))


def _lift_says(row: WorkRow, speech: Speech) -> str:
    """Return how a lift is told from the others: ``"Women: power clean"``."""
    name = work_wording.movement_name(row.task, speech)
    if row.task.who.kind == "anyone":
        return name
    said = wording.who(row.task.who, speech.categories, speech.words)
    return f"{said[:1].upper()}{said[1:]}: {name}"
