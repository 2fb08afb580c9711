"""Rules for line-ups: from the squad, of the right make-up, in time, and not too often."""

from collections import Counter
from collections.abc import Iterator

from msgspec.structs import replace

from callroom.actions.case import Case, need_reason
from callroom.journal.entries import line_up_bodies
from callroom.model import (
    BadInput,
    Finding,
    LineUp,
    NotAllowed,
    Refusal,
    State,
    Team,
    milliseconds,
)
from callroom.model.line_up import line_up_in, line_up_key, lined_up, substitutions
from callroom.model.steps import place_names


def line_up_set(case: Case, body: line_up_bodies.LineUpSet) -> None:
    """A possible line-up for heats to come; what breaks the event's rules the head judge allows."""
    team = _need_possible(case, body)
    breaches = tuple(_breaches(case, body, team))
    if not body.allowed:
        if breaches:
            raise BadInput(breaches)
        return
    if case.actor.role not in {"head_judge", "director"}:
        raise NotAllowed("role.not_allowed", role=case.actor.role, kind="line_up.set")
    need_reason(body.reason)


def athlete_stood_down(case: Case, body: line_up_bodies.AthleteStoodDown) -> None:
    """Somebody of the squad stands down once."""
    _need_of_squad(case, body.team, body.person)
    if body.person in case.state.stood_down:
        raise Refusal("athlete.stands_down_already", team=body.team)


def athlete_cleared(case: Case, body: line_up_bodies.AthleteCleared) -> None:
    """Only who stands down can be cleared."""
    _need_of_squad(case, body.team, body.person)
    if body.person not in case.state.stood_down:
        raise Refusal("athlete.not_stood_down", team=body.team)


def _need_of_squad(case: Case, team_id: str, person: str) -> None:
    if person not in {one.person for one in case.team(team_id).athletes}:
        raise Refusal("line_up.not_of_squad", team=team_id, count=1)


def _need_possible(case: Case, body: line_up_bodies.LineUpSet) -> Team:
    """Refuse what nobody can allow."""
    team = case.team(body.team)
    if body.team in case.state.team_status:
        raise Refusal("team.left_already", team=body.team)
    if not body.workouts:
        raise Refusal("line_up.no_workout", team=body.team)
    for workout in body.workouts:
        _need_to_come(case, workout, team)
    squad = {one.person for one in team.athletes}
    strangers = [one for one in body.places if one.person not in squad]
    if strangers:
        raise Refusal("line_up.not_of_squad", team=body.team, count=len(strangers))
    places = place_names(case.event.division(team.division))
    unknown = [one.place for one in body.places if one.place not in places]
    if unknown:
        raise Refusal("line_up.place_unknown", place=unknown[0], places=", ".join(places))
    for what in ([one.place for one in body.places], [one.person for one in body.places]):
        if len(set(what)) < len(what):
            raise Refusal("line_up.twice", team=body.team)
    if any(one.person in case.state.stood_down for one in body.places):
        raise Refusal("line_up.not_cleared", team=body.team)
    now = (frozenset(line_up_in(case.state, one, team)) for one in body.workouts)
    if all(one == frozenset(body.places) for one in now):
        raise Refusal("line_up.as_it_is", team=body.team)
    return team


def _need_to_come(case: Case, workout_id: str, team: Team) -> None:
    if workout_id not in {one.id for one in case.event.workouts}:
        raise Refusal("workout.unknown", workout=workout_id)
    heat = case.plan.heat_of(workout_id, team.id)
    if heat is None:
        raise Refusal("line_up.no_heat", team=team.id, workout=workout_id)
    if case.state.heat_run(heat.id).started_ms is not None:
        raise Refusal("line_up.heat_has_run", team=team.id, workout=workout_id)


def _breaches(case: Case, body: line_up_bodies.LineUpSet, team: Team) -> Iterator[Finding]:
    yield from _wrong_make_up(case, body, team)
    yield from _too_late(case, body, team)
    yield from _too_many(case, body, team)


def _wrong_make_up(case: Case, body: line_up_bodies.LineUpSet, team: Team) -> Iterator[Finding]:
    """Find categories of which more stand than the division has; fewer is short-handed."""
    wanted = {one.category: one.count for one in case.event.division(team.division).make_up}
    names = {one.id: one.name for one in case.event.categories}
    given = Counter(one.category for one in lined_up(team, body.places).on_floor)
    for category, count in sorted(given.items()):
        if count > wanted.get(category, 0):
            yield _breach(
                "line_up.wrong_make_up",
                team,
                category=names.get(category, category),
                given=count,
                wanted=wanted.get(category, 0),
            )


def _too_late(case: Case, body: line_up_bodies.LineUpSet, team: Team) -> Iterator[Finding]:
    deadline_s = case.event.rules.substitution_deadline_s
    for workout_id in body.workouts:
        heat = case.plan.heat_of(workout_id, team.id)
        if heat is None:
            continue
        until_s = heat.start_s - case.event.workout(workout_id).report_s - deadline_s
        if case.now_ms > milliseconds(case.event.instant(until_s)):
            yield _breach("line_up.too_late", team, workout=workout_id, until_at_s=until_s)


def _too_many(case: Case, body: line_up_bodies.LineUpSet, team: Team) -> Iterator[Finding]:
    most = case.event.rules.substitutions
    if most is None:
        return
    after = substitutions(_with_line_up(case.state, body), team)
    # Going back towards the line-up as entered is never one too many.
    if after > most and after > substitutions(case.state, team):
        yield _breach("line_up.too_many", team, given=after, most=most)


def _with_line_up(state: State, body: line_up_bodies.LineUpSet) -> State:
    changed = {
        line_up_key(workout, body.team): LineUp(
            workout=workout, team=body.team, seq=0, at_ms=0, places=body.places
        )
        for workout in body.workouts
    }
    return replace(state, line_ups={**state.line_ups, **changed})


def _breach(rule: str, team: Team, **facts: str | int) -> Finding:
    return Finding(
        rule=rule, severity="error", subject=f"team.{team.id}", facts={"team": team.id, **facts}
    )
