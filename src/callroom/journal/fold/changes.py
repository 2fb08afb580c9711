"""Folding of what changes the rules of the day: rulings and amendments."""

from msgspec.structs import replace

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.journal.fold.running import open_again
from callroom.model import Amendment, HeatRun, Ruling, ScoreSheet


def ruling_made(build: Builder, entry: Entry, body: bodies.RulingMade) -> None:
    """Give a ruling the next number; none is ever taken out, so no number comes twice."""
    ruling = Ruling(
        number=1 + len(build.rulings.view),
        seq=entry.seq,
        at_ms=entry.at_ms,
        question=body.question,
        answer=body.answer,
        workout=body.workout,
        movement=body.movement,
    )
    _put(build, ruling)


def ruling_withdrawn(build: Builder, entry: Entry, body: bodies.RulingWithdrawn) -> None:
    """Take a ruling back; it stays listed, and judges who saw it are told."""
    ruling = build.rulings.get(str(body.number))
    if ruling is not None:
        _put(build, replace(ruling, withdrawn_seq=entry.seq, withdrawn_for=body.reason))


def _put(build: Builder, ruling: Ruling) -> None:
    build.rulings.put(str(ruling.number), ruling)
    build.touch(f"ruling:{ruling.number}")


def ruling_acknowledged(build: Builder, entry: Entry, body: bodies.RulingAcknowledged) -> None:
    """Note what a device has seen of a ruling; an older report arriving late takes nothing back."""
    number = str(body.number)
    seen = build.acknowledged.get(entry.device) or {}
    if number in build.rulings.view and body.seen_seq > seen.get(number, 0):
        build.acknowledged.put(entry.device, {**seen, number: body.seen_seq})


def amendment_made(build: Builder, entry: Entry, body: bodies.AmendmentMade) -> None:
    """Put the new workout in place of the old one, and do what was chosen for heats that ran."""
    event = build.event
    known = event.workouts if event is not None else ()
    before = next((workout for workout in known if workout.id == body.workout.id), None)
    if event is None or before is None:
        return
    amendment = Amendment(
        number=1 + len(build.amendments.view),
        seq=entry.seq,
        at_ms=entry.at_ms,
        workout=before.id,
        what=body.what,
        why=body.why,
        decided_by=body.decided_by,
        from_heat=body.from_heat,
        remedy=body.remedy,
        had_run=_had_run(build, before.id),
        common_point=body.common_point,
        before=before,
    )
    workouts = tuple(body.workout if one is before else one for one in known)
    build.event = replace(event, workouts=workouts)
    build.amendments.put(str(amendment.number), amendment)
    build.touch("event", f"amendment:{amendment.number}")
    if body.remedy == "again":
        _run_again(build, amendment)
    elif body.remedy == "common":
        _score_anew(build, amendment)


def _had_run(build: Builder, workout_id: str) -> tuple[str, ...]:
    heats = build.plan.heats if build.plan is not None else ()
    return tuple(
        heat.id
        for heat in heats
        if heat.workout == workout_id and (build.heats.get(heat.id) or HeatRun()).started_ms
    )


def _run_again(build: Builder, amendment: Amendment) -> None:
    """Let the heats wait as if they had not run; further attempts fall away with the first."""
    for heat_id in amendment.had_run:
        build.heats.put(heat_id, HeatRun())
        build.touch(f"heat:{heat_id}")
    for key, sheet in tuple(build.sheets.view.items()):
        if sheet.workout != amendment.workout:
            continue
        if sheet.attempt > 1:
            build.sheets.drop(key)
            build.touch(f"sheet:{key}")
        else:
            _set_aside(build, key, replace(sheet, penalties=()), amendment)
    for key in tuple(build.reruns.view):
        if key.partition("/")[0] == amendment.workout:
            build.reruns.drop(key)
            build.touch(f"reruns:{key}")


def _score_anew(build: Builder, amendment: Amendment) -> None:
    """Open the heats that had run; what was reported of them is to be told to the common point."""
    teams = {
        team
        for heat in (build.planned_heat(heat_id) for heat_id in amendment.had_run)
        if heat is not None
        for team in heat.teams
    }
    for heat_id in amendment.had_run:
        open_again(build, heat_id)
    for key, sheet in tuple(build.sheets.view.items()):
        if sheet.workout == amendment.workout and sheet.team in teams:
            _set_aside(build, key, sheet, amendment)


def _set_aside(build: Builder, key: str, sheet: ScoreSheet, amendment: Amendment) -> None:
    aside = replace(
        sheet,
        set_aside_seq=amendment.seq,
        chosen_seq=None,
        correction=None,
        confirmed_seq=None,
    )
    build.sheets.put(key, aside)
    build.touch(f"sheet:{key}")
