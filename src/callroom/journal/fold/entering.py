"""Folding of entering: the settings, the texts agreed to, the entry forms."""

from msgspec.structs import replace

from callroom.journal.entries import entering_bodies as bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model.entering import Enrolment, Terms


def entering_set(build: Builder, entry: Entry, body: bodies.EnteringSet) -> None:
    """Replace the settings; texts that changed are new terms, and the old ones stay known."""
    build.entering = body.entering
    consent, waiver = body.entering.consent, body.entering.waiver
    last = build.terms[-1] if build.terms else None
    before = (last.consent, last.waiver) if last is not None else ("", "")
    if (consent, waiver) != before:
        terms = Terms(
            number=len(build.terms) + 1,
            seq=entry.seq,
            at_ms=entry.at_ms,
            consent=consent,
            waiver=waiver,
        )
        build.terms = (*build.terms, terms)
    build.touch("entering")


def team_enrolled(build: Builder, entry: Entry, body: bodies.TeamEnrolled) -> None:
    """Keep an entry form; a team that is in stands among the teams."""
    enrolment = Enrolment(team=body.team, seq=entry.seq, at_ms=entry.at_ms, status=body.outcome)
    build.enrolments.put(body.team.id, enrolment)
    if body.outcome == "in":
        build.teams.put(body.team.id, body.team)
    build.touch(f"team:{body.team.id}")


def team_revised(build: Builder, _entry: Entry, body: bodies.TeamRevised) -> None:
    """Change a team wherever it stands."""
    team = body.team
    enrolment = build.enrolments.get(team.id)
    if enrolment is not None:
        build.enrolments.put(team.id, replace(enrolment, team=team))
    if build.teams.get(team.id) is not None:
        build.teams.put(team.id, team)
    build.touch(f"team:{team.id}")


def team_accepted(build: Builder, _entry: Entry, body: bodies.TeamAccepted) -> None:
    """Let a team that waited in."""
    enrolment = build.enrolments.get(body.team)
    if enrolment is not None:
        build.enrolments.put(body.team, replace(enrolment, status="in"))
        build.teams.put(body.team, enrolment.team)
    build.touch(f"team:{body.team}")


def enrolment_ended(build: Builder, _entry: Entry, body: bodies.EnrolmentEnded) -> None:
    """Take a team off the waiting list."""
    enrolment = build.enrolments.get(body.team)
    if enrolment is not None:
        build.enrolments.put(body.team, replace(enrolment, status=body.how))
    build.touch(f"team:{body.team}")
