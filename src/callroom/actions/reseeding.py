"""Seeding a later workout anew from the standings: what is proposed, and what it waits for."""

import msgspec

from callroom.actions.request import Request, propose
from callroom.journal.entries.verdict_bodies import PlanReseeded
from callroom.model import Event, Finding, Heat, NotFound, Plan, State
from callroom.planner.check import check_plan
from callroom.planner.crew_judges import with_crew_judges
from callroom.planner.seeding import drawn
from callroom.planner.seeding.reseed import Reseeding, reseeded
from callroom.scoring import DivisionStandings, division_standings


def reseedings(state: State) -> tuple[Reseeding, ...]:
    """Return what the standings would change, by workout and division, in the event's order.

    A division's first workout of the day rests on no standings, and one whose heats have all
    begun cannot be changed: both are left out, and so is what the event wants kept.
    """
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return ()
    found = [
        reseeding(state, workout.id, division.id)
        for workout in event.workouts
        for division in event.divisions
        if event.wishes.order_into(workout.id) != "kept"
        and _earlier(state, plan, workout.id, division.id)
    ]
    return tuple(one for one in found if len(one.begun) < len(_heats(state, plan, one)))


def reseeding(state: State, workout_id: str, division_id: str) -> Reseeding:
    """Return what the standings of a division would change in a workout.

    Raises
    ------
    NotFound
        Without an event, a plan, or such a workout or division.
    """
    event, plan = state.event, state.plan
    if event is None:
        raise NotFound("book.no_event")
    if plan is None:
        raise NotFound("plan.none")
    if workout_id not in {workout.id for workout in event.workouts}:
        raise NotFound("workout.unknown", workout=workout_id)
    standings = division_standings(state, division_id)
    rule = event.wishes.order_into(workout_id)
    heats = _in_order(plan, workout_id)
    ranked = _ranked(state, event, standings, heats)

    def mine(team: str) -> bool:
        return state.teams[team].division == division_id

    after = reseeded(event, heats, mine, ranked, rule) if ranked else heats
    changed = [(was, now) for was, now in zip(heats, after, strict=True) if was != now]
    return Reseeding(
        workout=workout_id,
        division=division_id,
        rule=rule,
        ranked=ranked,
        before=tuple(was for was, _ in changed),
        after=tuple(now for _, now in changed),
        awaited=_awaited(state, plan, standings, workout_id),
        begun=tuple(
            heat.id
            for heat in heats
            if any(map(mine, heat.teams)) and state.heat_run(heat.id).stage != "waiting"
        ),
    )


def new_faults(state: State, proposed: Reseeding) -> tuple[Finding, ...]:
    """Return what the plan's check finds with the proposed heats and not without them."""
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return ()
    new = {heat.id: heat for heat in proposed.after}
    after = msgspec.structs.replace(
        plan, heats=tuple(new.get(heat.id, heat) for heat in plan.heats)
    )
    teams, gone = tuple(state.teams.values()), state.team_status.keys()
    event = with_crew_judges(event, state.crew.values())
    known = {(one.rule, one.subject) for one in check_plan(event, teams, plan, withdrawn=gone)}
    found = check_plan(event, teams, after, withdrawn=gone)
    return tuple(one for one in found if (one.rule, one.subject) not in known)


def accept_reseeding(state: State, proposed: Reseeding) -> Request:
    """Tell everyone the proposed heats, in the next revision of the plan."""
    revision = state.plan.revision + 1 if state.plan is not None else 1
    body = PlanReseeded(
        revision=revision,
        workout=proposed.workout,
        division=proposed.division,
        heats=proposed.after,
    )
    return propose(body, basis={"plan": state.subjects.get("plan", 0)})


def _ranked(
    state: State, event: Event, standings: DivisionStandings, heats: tuple[Heat, ...]
) -> tuple[str, ...]:
    """Return the teams by overall place, level ones by lot; those without a place come last."""
    entered = {team for heat in heats for team in heat.teams} - state.team_status.keys()
    places = {row.team: row.place for row in standings.rows if row.team in entered}
    lots = drawn(places, seed=event.wishes.draw_seed, purpose="level in the standings")
    last = len(standings.rows) + 1
    return tuple(sorted(lots, key=lambda team: places[team] or last))


def _heats(state: State, plan: Plan, one: Reseeding) -> list[Heat]:
    return [
        heat
        for heat in _in_order(plan, one.workout)
        if any(state.teams[team].division == one.division for team in heat.teams)
    ]


def _in_order(plan: Plan, workout_id: str) -> tuple[Heat, ...]:
    mine = (heat for heat in plan.heats if heat.workout == workout_id)
    return tuple(sorted(mine, key=lambda heat: (heat.start_s, heat.id)))


def _earlier(state: State, plan: Plan, workout_id: str, division_id: str) -> tuple[str, ...]:
    """Return the workouts that a division begins before another, in the order it does."""
    first: dict[str, int] = {}
    for heat in sorted(plan.heats, key=lambda heat: heat.start_s):
        if any(state.teams[team].division == division_id for team in heat.teams):
            first.setdefault(heat.workout, heat.start_s)
    begins_s = first.get(workout_id)
    if begins_s is None:
        return ()
    return tuple(name for name, start_s in first.items() if start_s < begins_s)


def _awaited(
    state: State, plan: Plan, standings: DivisionStandings, workout_id: str
) -> tuple[tuple[str, str], ...]:
    earlier = _earlier(state, plan, workout_id, standings.division)
    return tuple(
        (part.workout, part.part)
        for part in standings.parts
        if part.workout in earlier and not (part.confirmed or part.void)
    )
