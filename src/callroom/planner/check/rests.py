"""Rules of a team's day: one place at a time, rest, and the order of the workouts."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.check.rules import RULES


def check_rests(event: Event, teams: Mapping[str, Team], plan: Plan) -> Iterator[Finding]:
    """Yield what is wrong with the day of each team."""
    days: dict[str, list[Heat]] = {team: [] for team in teams}
    for heat in sorted(plan.heats, key=lambda heat: (heat.start_s, heat.id)):
        for team in heat.teams:
            if team in days:
                days[team].append(heat)
    for team, day in days.items():
        yield from _rested(event, team, day)
        if event.wishes.workout_order == "listed":
            yield from _listed(event, team, day)
    yield from _promised(event, teams, plan)


def _rested(event: Event, team: str, day: Sequence[Heat]) -> Iterator[Finding]:
    for before, after in _rest_pairs(event, day):
        at, given_s = f"team.{team}", after.start_s - before.end_s
        needed_s = event.wishes.rest_between_s(before.workout, after.workout)
        if given_s < 0:
            yield RULES.found(
                "check.team_in_two_places", at, team=team, heat=after.id, other=before.id
            )
        elif given_s < needed_s:
            yield RULES.found(
                "check.rest_short",
                at,
                team=team,
                before=before.id,
                heat=after.id,
                given_s=given_s,
                needed_s=needed_s,
            )


def _rest_pairs(event: Event, day: Sequence[Heat]) -> Iterator[tuple[Heat, Heat]]:
    """Yield each heat with the next, and with later ones if a rest of their own is wished."""
    told = {(rest.before, rest.after) for rest in event.wishes.rests}
    for place, (before, after) in enumerate(pairwise(day)):
        yield before, after
        for later in day[place + 2 :]:
            if (before.workout, later.workout) in told:
                yield before, later


def _listed(event: Event, team: str, day: Sequence[Heat]) -> Iterator[Finding]:
    places = {workout.id: place for place, workout in enumerate(event.workouts)}
    known = [heat for heat in day if heat.workout in places]
    for before, after in pairwise(known):
        if places[after.workout] < places[before.workout]:
            yield RULES.found(
                "check.workouts_out_of_order",
                f"team.{team}",
                team=team,
                before=before.id,
                heat=after.id,
            )


def _promised(event: Event, teams: Mapping[str, Team], plan: Plan) -> Iterator[Finding]:
    """Rest that must hold whatever heat the standings put a team into.

    One heat up or down, or anywhere in its division: only for workouts in a listed order,
    from each workout to the next.
    """
    if event.wishes.workout_order == "free":
        return
    for division in event.divisions:
        mine = {team.id for team in teams.values() if team.division == division.id}
        for one, other in pairwise(event.workouts):
            order = event.wishes.order_into(other.id)
            if order == "kept":
                continue
            needed_s = event.wishes.rest_between_s(one.id, other.id)
            row = _row(plan, other.id, mine)
            for before in _row(plan, one.id, mine):
                for after in row if order == "reseeded" else _about(before, row):
                    given_s = after.start_s - before.end_s
                    if given_s < needed_s:
                        yield RULES.found(
                            "check.rest_not_promised",
                            f"division.{division.id}",
                            division=division.id,
                            before=before.id,
                            heat=after.id,
                            given_s=given_s,
                            needed_s=needed_s,
                        )


def _row(plan: Plan, workout: str, teams: set[str]) -> list[Heat]:
    """Return a division's heats of a workout in the order they are run."""
    heats = [h for h in plan.heats if h.workout == workout and teams & set(h.teams)]
    return sorted(heats, key=lambda heat: (heat.start_s, heat.number))


def _about(heat: Heat, row: Sequence[Heat]) -> list[Heat]:
    """Return the heats of a row that share a team with `heat`, and those next to them."""
    places = [place for place, other in enumerate(row) if set(other.teams) & set(heat.teams)]
    near = {place + step for place in places for step in (-1, 0, 1)}
    return [other for place, other in enumerate(row) if place in near]
