"""Folding of appeals, podiums let out, results kept back, and seedings from results."""

from msgspec.structs import replace

from callroom.journal.entries import bodies as day_bodies
from callroom.journal.entries import verdict_bodies as bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.journal.fold.planned import plan_repaired
from callroom.model.appeal import Appeal, AppealDecision
from callroom.model.podium import PodiumRelease


def appeal_made(build: Builder, entry: Entry, body: bodies.AppealMade) -> None:
    """Give an appeal the next number; none is ever taken out, so no number comes twice."""
    appeal = Appeal(
        number=1 + len(build.appeals.view),
        seq=entry.seq,
        at_ms=entry.at_ms,
        actor=entry.actor,
        team=body.team,
        ground=body.ground,
        text=body.text,
        handed_in_ms=body.handed_in_ms,
        workout=body.workout,
        part=body.part,
        late=_late(build, body),
    )
    _put(build, appeal)


def _late(build: Builder, body: bodies.AppealMade) -> bool:
    team = build.teams.get(body.team)
    posting = build.postings.get(team.division) if team is not None else None
    if posting is None or build.event is None:
        return False
    return body.handed_in_ms > posting.appeals_until_ms(build.event.rules.appeal_window_s)


def appeal_decided(build: Builder, entry: Entry, body: bodies.AppealDecided) -> None:
    """Close an appeal with what was decided."""
    appeal = build.appeals.get(str(body.number))
    if appeal is None:
        return
    decision = AppealDecision(
        seq=entry.seq,
        at_ms=entry.at_ms,
        actor=entry.actor,
        upheld=body.upheld,
        reason=body.reason,
    )
    _put(build, replace(appeal, decision=decision))


def appeal_withdrawn(build: Builder, entry: Entry, body: bodies.AppealWithdrawn) -> None:
    """Close an appeal that its team took back."""
    appeal = build.appeals.get(str(body.number))
    if appeal is not None:
        _put(build, replace(appeal, withdrawn_seq=entry.seq))


def _put(build: Builder, appeal: Appeal) -> None:
    build.appeals.put(str(appeal.number), appeal)
    build.touch(f"appeal:{appeal.number}")


def podium_released(build: Builder, entry: Entry, body: bodies.PodiumReleased) -> None:
    """Note that a division's first three may be presented as things stand."""
    release = PodiumRelease(
        seq=entry.seq,
        at_ms=entry.at_ms,
        actor=entry.actor,
        division=body.division,
        reason=body.reason,
    )
    build.podiums.put(body.division, release)
    build.touch(f"podium:{body.division}")


def embargo_set(build: Builder, _entry: Entry, body: bodies.EmbargoSet) -> None:
    """Keep a workout's results from the public, or let them out."""
    build.embargo.put(body.workout, body.hidden)
    build.touch(f"embargo:{body.workout}")


def plan_reseeded(build: Builder, entry: Entry, body: bodies.PlanReseeded) -> None:
    """Change the heats of a workout, and keep the plan before, for which sheets are stale."""
    repair = day_bodies.PlanRepaired(
        revision=body.revision, why=f"seeded:{body.workout}/{body.division}", heats=body.heats
    )
    plan_repaired(build, entry, repair)
