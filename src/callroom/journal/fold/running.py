"""Folding of the day's course: calls, starts, arrivals, confirmations, devices."""

from msgspec.structs import replace

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import Device, HeatRun, Posting, sheet_key
from callroom.model.person import EVERYONE


def _heat_run(build: Builder, heat_id: str) -> HeatRun:
    return build.heats.get(heat_id) or HeatRun()


def _put(build: Builder, heat_id: str, run: HeatRun) -> None:
    build.heats.put(heat_id, run)
    build.touch(f"heat:{heat_id}")


def heat_called(build: Builder, entry: Entry, body: bodies.HeatCalled) -> None:
    """Mark a heat as called."""
    run = replace(_heat_run(build, body.heat), stage="called", called_ms=entry.at_ms)
    _put(build, body.heat, run)


def heat_started(build: Builder, _entry: Entry, body: bodies.HeatStarted) -> None:
    """Start a heat's clock."""
    run = replace(_heat_run(build, body.heat), stage="started", started_ms=body.at_ms)
    _put(build, body.heat, run)


def heat_restarted(build: Builder, _entry: Entry, body: bodies.HeatRestarted) -> None:
    """Forget a start that did not count."""
    run = replace(_heat_run(build, body.heat), stage="called", started_ms=None, finished_ms=None)
    _put(build, body.heat, replace(run, stop=None, ready=()))


def heat_finished(build: Builder, entry: Entry, body: bodies.HeatFinished) -> None:
    """End a heat's clock."""
    run = replace(_heat_run(build, body.heat), stage="finished", finished_ms=entry.at_ms)
    _put(build, body.heat, run)


def heat_confirmed(build: Builder, entry: Entry, body: bodies.HeatConfirmed) -> None:
    """Confirm a heat and every sheet of its teams."""
    run = replace(_heat_run(build, body.heat), stage="confirmed", confirmed_seq=entry.seq)
    _put(build, body.heat, run)
    _mark_sheets(build, body.heat, entry.seq)


def heat_reopened(build: Builder, _entry: Entry, body: bodies.HeatReopened) -> None:
    """Open a confirmed heat again."""
    open_again(build, body.heat)


def open_again(build: Builder, heat_id: str) -> None:
    """Take back the confirmation of a heat, if it has one."""
    run = _heat_run(build, heat_id)
    if run.stage != "confirmed":
        return
    _put(build, heat_id, replace(run, stage="finished", confirmed_seq=None))
    _mark_sheets(build, heat_id, None)


def _mark_sheets(build: Builder, heat_id: str, confirmed_seq: int | None) -> None:
    heat = build.planned_heat(heat_id)
    if heat is None:
        return
    for team_id in heat.teams:
        for key in _sheet_keys(build, heat.workout, team_id):
            sheet = build.sheets.get(key)
            if sheet is not None:
                build.sheets.put(key, replace(sheet, confirmed_seq=confirmed_seq))
                build.touch(f"sheet:{key}")


def _sheet_keys(build: Builder, workout_id: str, team_id: str) -> list[str]:
    workouts = build.event.workouts if build.event is not None else ()
    attempts = 1 + len(build.reruns.get(f"{workout_id}/{team_id}") or ())
    return [
        sheet_key(workout_id, part.id, team_id, attempt)
        for workout in workouts
        if workout.id == workout_id
        for part in workout.parts
        for attempt in range(1, attempts + 1)
    ]


def heat_on_floor(build: Builder, entry: Entry, body: bodies.HeatOnFloor) -> None:
    """Note that a heat walked on; whoever walks on was called."""
    run = _heat_run(build, body.heat)
    called_ms = run.called_ms or entry.at_ms
    _put(
        build,
        body.heat,
        replace(run, stage="called", called_ms=called_ms, on_floor_ms=entry.at_ms),
    )


def heat_stepped_back(build: Builder, _entry: Entry, body: bodies.HeatSteppedBack) -> None:
    """Take back a walk-on; without one, the call."""
    run = _heat_run(build, body.heat)
    if run.on_floor_ms is not None:
        _put(build, body.heat, replace(run, on_floor_ms=None))
    elif run.stage == "called":
        _put(build, body.heat, replace(run, stage="waiting", called_ms=None))


def team_arrived(build: Builder, _entry: Entry, body: bodies.TeamArrived) -> None:
    """Note that a team is at the call board."""
    _see(build, body.heat, body.team, arrived=True)


def team_no_show(build: Builder, _entry: Entry, body: bodies.TeamNoShow) -> None:
    """Note that a team was not there at the check."""
    _see(build, body.heat, body.team, arrived=False)


def team_awaited(build: Builder, _entry: Entry, body: bodies.TeamAwaited) -> None:
    """Forget whether a team was there."""
    _see(build, body.heat, body.team, arrived=None)


def lane_ready(build: Builder, _entry: Entry, body: bodies.LaneReady) -> None:
    """Note that a lane is ready, or not yet; once the clock runs it says nothing any more."""
    run = _heat_run(build, body.heat)
    if run.started_ms is not None or body.ready == (body.lane in run.ready):
        return
    others = tuple(lane for lane in run.ready if lane != body.lane)
    ready = tuple(sorted((*others, body.lane))) if body.ready else others
    build.heats.put(body.heat, replace(run, ready=ready))
    # Not the heat itself: a start that is being pressed rests on that, and is not to go stale.
    build.touch(f"ready:{body.heat}")


def _see(build: Builder, heat_id: str, team_id: str, *, arrived: bool | None) -> None:
    run = _heat_run(build, heat_id)
    before = True if team_id in run.arrived else False if team_id in run.no_shows else None
    if arrived is before:
        return
    here = tuple(team for team in run.arrived if team != team_id)
    missed = tuple(team for team in run.no_shows if team != team_id)
    if arrived is not None:
        here, missed = ((*here, team_id), missed) if arrived else (here, (*missed, team_id))
    _put(build, heat_id, replace(run, arrived=here, no_shows=missed))


def standings_posted(build: Builder, entry: Entry, body: bodies.StandingsPosted) -> None:
    """Note when a division's standings were posted."""
    posting = Posting(seq=entry.seq, at_ms=entry.at_ms, division=body.division, final=body.final)
    build.postings.put(body.division, posting)
    build.touch(f"standings:{body.division}")


def device_joined(build: Builder, entry: Entry, body: bodies.DeviceJoined) -> None:
    """Give a device its role."""
    device = Device(id=body.device, role=body.role, joined_seq=entry.seq)
    build.devices.put(body.device, device)
    build.touch(f"device:{body.device}")


def device_revoked(build: Builder, entry: Entry, body: bodies.DeviceRevoked) -> None:
    """Take a device's role."""
    device = build.devices.get(body.device)
    if device is not None:
        build.devices.put(body.device, replace(device, revoked_seq=entry.seq))
    build.touch(f"device:{body.device}")


def book_carried(build: Builder, _entry: Entry, body: bodies.BookCarried) -> None:
    """Count that another laptop carries on; what an older one still takes is not in this book."""
    build.generation = body.generation
    build.away = None
    build.touch("book", "away")


def desk_set(build: Builder, _entry: Entry, body: bodies.DeskSet) -> None:
    """Change how cards are typed."""
    build.double_entry = body.double_entry
    build.touch("desk")


def screen_set(build: Builder, _entry: Entry, body: bodies.ScreenSet) -> None:
    """Change what the hall screen shows."""
    build.screen = body.screen
    build.touch("screen")


def person_erased(build: Builder, entry: Entry, body: bodies.PersonErased) -> None:
    """Note that a person is to be known no more."""
    build.erased.put(body.person, entry.seq)
    build.touch("erased")


def everyone_erased(build: Builder, entry: Entry, _body: bodies.EveryoneErased) -> None:
    """Note that nobody is to be known any more, but where the accounts need them."""
    build.erased.put(EVERYONE, entry.seq)
    build.touch("erased")


def rehearsal_marked(build: Builder, _entry: Entry, _body: bodies.RehearsalMarked) -> None:
    """Mark the whole book as a practice run."""
    build.rehearsal = True
