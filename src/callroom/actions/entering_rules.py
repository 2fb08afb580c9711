"""Rules for entering: in time, as the division is made up, in turn, and only for one's own team."""

from callroom.actions.case import Case
from callroom.journal.entries import bodies
from callroom.journal.entries import entering_bodies as entering
from callroom.model import (
    BadInput,
    Event,
    NotAllowed,
    Refusal,
    Stale,
    Team,
    errors_among,
    milliseconds,
)
from callroom.model.checking import check_teams
from callroom.model.entering import Enrolment
from callroom.model.places_left import outcome_now, places_left


def entering_set(case: Case, body: entering.EnteringSet) -> None:
    """Settings that fit the event: known divisions, and a close after the opening."""
    settings = body.entering
    for division in settings.ages_in:
        case.need_division(division)
    opens_ms, closes_ms = settings.opens_ms, settings.closes_ms
    if opens_ms is not None and closes_ms is not None and closes_ms <= opens_ms:
        raise Refusal("entering.closes_first")


def team_enrolled(case: Case, body: entering.TeamEnrolled) -> None:
    """A new team of a known division while entering is open, with the outcome that is its turn.

    What the check-in notes waits for the director, at any time.
    """
    team = body.team
    case.need_division(team.division)
    if case.actor.role == "public":
        _need_open(case)
    if team.id in case.state.teams or team.id in case.state.enrolments:
        raise Stale("enrolment.id_taken", team=team.id)
    _need_sound(case, team)
    if body.outcome == "waiting" and case.actor.role != "public":
        return
    if case.actor.role in {"desk", "head_judge"}:
        raise NotAllowed("enrolment.directors_part", team=team.id)
    if body.outcome != outcome_now(case.state, team.division):
        raise Stale("enrolment.other_outcome", division=team.division)


def team_revised(case: Case, body: entering.TeamRevised) -> None:
    """The same team in the same division; by itself only while entering is open.

    What leaves the team as it is says only that details of its people changed, such as a
    consent: that is taken until the day begins.
    """
    now = _team_now(case, body.team.id)
    if case.actor.role == "public":
        _need_own(case, body.team.id)
        if body.team == now:
            _need_before_the_day(case)
        else:
            _need_open(case)
        if (now.division, now.entry_rank) != (body.team.division, body.team.entry_rank):
            raise NotAllowed("enrolment.directors_part", team=now.id)
    case.need_division(body.team.division)
    _need_sound(case, body.team)


def team_accepted(case: Case, body: entering.TeamAccepted) -> None:
    """Who waits, while there is room."""
    enrolment = _waiting(case, body.team)
    division = enrolment.team.division
    if places_left(case.state, division) == 0:
        limit = case.event.division(division).team_limit
        raise Refusal("enrolment.no_room", team=body.team, division=division, limit=limit)
    _need_sound(case, enrolment.team)


def enrolment_ended(case: Case, body: entering.EnrolmentEnded) -> None:
    """Who waits; a team itself can only withdraw."""
    _waiting(case, body.team)
    if case.actor.role == "public":
        _need_own(case, body.team)
        if body.how != "withdrawn" or body.reason:
            raise NotAllowed("enrolment.directors_part", team=body.team)


def need_own_leave(case: Case, body: bodies.TeamLeft) -> None:
    """Let a team itself withdraw before the day begins, without a reason, which may be personal."""
    _need_own(case, body.team)
    if body.status != "withdrawn" or body.reason:
        raise NotAllowed("enrolment.directors_part", team=body.team)
    _need_before_the_day(case)


def need_divisions_kept(case: Case, event: Event) -> None:
    """Refuse an event without a division in which teams are, or wait, after the request."""
    state = case.state
    divisions = {one.id: one.division for one in state.teams.values()}
    divisions |= {
        one.team.id: one.team.division
        for one in state.enrolments.values()
        if one.status == "waiting"
    }
    for body in case.request.proposals:
        if isinstance(body, bodies.TeamSet):
            divisions[body.team.id] = body.team.division
    for division in sorted(set(divisions.values()) - {one.id for one in event.divisions}):
        count = sum(one == division for one in divisions.values())
        raise Refusal("division.has_teams", division=division, count=count)


def team_device(team: str) -> str:
    """Return what stands for a device in the journal where a team itself acts by its link."""
    return f"link-of-{team}"


def _need_own(case: Case, team: str) -> None:
    if case.actor.device != team_device(team):
        raise NotAllowed("enrolment.other_team", team=team)


def _need_open(case: Case) -> None:
    if not case.state.entering.is_open(case.now_ms, milliseconds(case.event.starts_at)):
        raise Refusal("entering.not_open")


def _need_before_the_day(case: Case) -> None:
    if case.now_ms >= milliseconds(case.event.starts_at):
        raise Refusal("entering.day_has_begun")


def _need_sound(case: Case, team: Team) -> None:
    faults = errors_among(check_teams(case.event, (team,), ()))
    if faults:
        raise BadInput(faults)


def _team_now(case: Case, team_id: str) -> Team:
    enrolment = case.state.enrolments.get(team_id)
    team = case.state.teams.get(team_id) or (enrolment.team if enrolment is not None else None)
    if team is None:
        raise Refusal("team.unknown", team=team_id)
    if team_id in case.state.team_status and case.actor.role == "public":
        raise Refusal("enrolment.over", team=team_id)
    if enrolment is not None and enrolment.status in {"withdrawn", "declined"}:
        raise Refusal("enrolment.over", team=team_id)
    return team


def _waiting(case: Case, team_id: str) -> Enrolment:
    enrolment = case.state.enrolments.get(team_id)
    if enrolment is None or enrolment.status != "waiting":
        raise Refusal("enrolment.not_waiting", team=team_id)
    return enrolment
