"""Folding of what happens to a heat's clock besides its start and its end."""

from msgspec.structs import replace

from callroom.journal.entries import clock_bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import HeatRun, HeatStop, Penalty, ScoreSheet, sheet_key


def heat_stopped(build: Builder, entry: Entry, body: clock_bodies.HeatStopped) -> None:
    """Stop a heat's clock: it has ended, and waits for a ruling."""
    stop = HeatStop(at_ms=body.at_ms, reason=body.reason)
    run = build.heats.get(body.heat) or HeatRun()
    _put(build, body.heat, replace(run, stage="finished", finished_ms=entry.at_ms, stop=stop))


def stop_ruled(build: Builder, _entry: Entry, body: clock_bodies.StopRuled) -> None:
    """Keep what was ruled on a stop; what follows from it are entries of their own."""
    run = build.heats.get(body.heat)
    if run is not None and run.stop is not None:
        stop = replace(run.stop, ruling=body.ruling, ruled_for=body.reason)
        _put(build, body.heat, replace(run, stop=stop))


def rerun_started(build: Builder, _entry: Entry, body: clock_bodies.RerunStarted) -> None:
    """Start the clock of a further attempt, or start it anew."""
    key = f"{body.workout}/{body.team}"
    known = build.reruns.get(key) or ()
    started = tuple(
        replace(rerun, started_ms=body.at_ms) if rerun.attempt == body.attempt else rerun
        for rerun in known
    )
    build.reruns.put(key, started)
    build.touch(f"reruns:{key}")


def credit_given(build: Builder, entry: Entry, body: clock_bodies.CreditGiven) -> None:
    """Take seconds off a sheet: a penalty the other way round, which can be taken back alike."""
    key = sheet_key(body.workout, body.part, body.team, body.attempt)
    sheet = build.sheets.get(key) or ScoreSheet(
        workout=body.workout, part=body.part, team=body.team, attempt=body.attempt
    )
    credit = Penalty(seq=entry.seq, reason=body.reason, seconds=-body.seconds)
    build.sheets.put(key, replace(sheet, penalties=(*sheet.penalties, credit)))
    build.touch(f"sheet:{key}")


def _put(build: Builder, heat_id: str, run: HeatRun) -> None:
    build.heats.put(heat_id, run)
    build.touch(f"heat:{heat_id}")
