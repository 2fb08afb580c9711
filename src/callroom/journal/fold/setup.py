"""Folding of what is decided before the day: event, teams, crew, kit, plan."""

from msgspec.structs import replace

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import Plan, PlanTold, TeamStatus


def event_set(build: Builder, _entry: Entry, body: bodies.EventSet) -> None:
    """Replace the event."""
    build.event = body.event
    build.touch("event")


def team_set(build: Builder, _entry: Entry, body: bodies.TeamSet) -> None:
    """Enter or change a team; its entry form, if it sent one, says the same."""
    build.teams.put(body.team.id, body.team)
    enrolment = build.enrolments.get(body.team.id)
    if enrolment is not None:
        build.enrolments.put(body.team.id, replace(enrolment, team=body.team, status="in"))
    build.touch(f"team:{body.team.id}")


def team_left(build: Builder, entry: Entry, body: bodies.TeamLeft) -> None:
    """Take a team out of the event."""
    status = TeamStatus(status=body.status, since_seq=entry.seq, reason=body.reason)
    build.team_status.put(body.team, status)
    build.touch(f"team:{body.team}")


def team_back(build: Builder, _entry: Entry, body: bodies.TeamBack) -> None:
    """Let a team back in, if it left by the entry named."""
    status = build.team_status.get(body.team)
    if status is not None and status.since_seq == body.left_seq:
        build.team_status.drop(body.team)
    build.touch(f"team:{body.team}")


def crew_set(build: Builder, _entry: Entry, body: bodies.CrewSet) -> None:
    """List a volunteer."""
    build.crew.put(body.member.person, body.member)
    build.touch(f"crew:{body.member.person}")


def crew_left(build: Builder, _entry: Entry, body: bodies.CrewLeft) -> None:
    """Take a volunteer off the list."""
    build.crew.drop(body.person)
    build.touch(f"crew:{body.person}")


def kit_set(build: Builder, _entry: Entry, body: bodies.KitSet) -> None:
    """Replace the kit list."""
    build.kit = body.items
    build.touch("kit")


def plan_published(build: Builder, entry: Entry, body: bodies.PlanPublished) -> None:
    """Replace the plan."""
    build.plan = body.plan
    build.plan_told = PlanTold(seq=entry.seq, at_ms=entry.at_ms)
    build.touch("plan")


def plan_changed(
    build: Builder, entry: Entry, body: bodies.PlanChanged | bodies.PlanRepaired
) -> None:
    """Change some heats of the plan; it is told anew, and stays frozen if it was."""
    if build.plan is None:
        return
    frozen = build.plan_told is not None and build.plan_told.frozen
    build.plan_told = PlanTold(seq=entry.seq, at_ms=entry.at_ms, frozen=frozen)
    kept = {heat.id: heat for heat in build.plan.heats if heat.id not in body.removed}
    kept.update((heat.id, heat) for heat in body.heats)
    heats = tuple(sorted(kept.values(), key=lambda heat: (heat.start_s, heat.floor, heat.id)))
    build.plan = Plan(
        revision=body.revision,
        inputs_digest=build.plan.inputs_digest,
        heats=heats,
        pauses=build.plan.pauses,
        finish_s=max((heat.end_s for heat in heats), default=0),
        bound_s=None,
    )
    build.touch("plan", *(f"heat:{heat.id}" for heat in body.heats))
