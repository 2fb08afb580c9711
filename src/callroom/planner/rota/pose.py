"""From a planned day and its crew to the question the rota answers."""

from collections.abc import Iterable, Iterator

from callroom.model.crew import CrewMember
from callroom.model.event import Event
from callroom.model.plan import Plan
from callroom.model.rota import RotaRules, Shift
from callroom.model.team import Team
from callroom.planner.rota.posts import judging_shifts, post_shifts
from callroom.planner.rota.problem import LONG_S, Debt, Hand, RotaProblem

OWN_GYM_MIN = 30
"""What judging a team of one's own gym costs: as much as this unevenness [minutes]."""


def pose_rota(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    crew: Iterable[CrewMember],
    rules: RotaRules | None = None,
) -> RotaProblem:
    """Return the question "who does what" for a planned day.

    Parameters
    ----------
    event, plan
        The event, and the plan whose heats need judges.
    teams
        Those still in the event: a lane whose team has left needs no judge, and who was in
        it is free.
    crew, rules
        The volunteers, and what the rota keeps to.
    """
    rules = rules or RotaRules()
    known = {team.id: team for team in teams}
    members = tuple(crew)
    shifts = judging_shifts(event, known, plan) + post_shifts(plan, rules.posts)
    standing = {
        (heat.id, place.lane): known[place.team]
        for heat in plan.heats
        for place in heat.lanes
        if place.team in known
    }
    workouts = {heat.id: heat.workout for heat in plan.heats}
    strict = {
        shift.id for shift in shifts if workouts.get(shift.heat) in rules.experienced_workouts
    }
    judged = {
        shift.id: standing[shift.heat, shift.lane] for shift in shifts if shift.lane is not None
    }
    hands = tuple(
        Hand(
            id=member.person,
            posts=frozenset(member.posts),
            away=tuple(_away(member, known, plan, rules)),
            experienced=member.experienced,
            barred=_barred(member, judged) | (frozenset() if member.experienced else strict),
            costs=_costs(member, judged),
        )
        for member in members
    )
    return RotaProblem(
        plan_revision=plan.revision,
        shifts=tuple(sorted(shifts, key=_in_order)),
        hands=hands,
        debts=_debts(members, rules),
        most_in_a_row=rules.most_in_a_row,
        break_s=rules.break_s,
        move_s=rules.move_s,
    )


def _in_order(shift: Shift) -> tuple[int, str, int, int, str]:
    return shift.start_s, shift.heat, shift.lane or 0, shift.seat, shift.id


def _away(
    member: CrewMember, teams: dict[str, Team], plan: Plan, rules: RotaRules
) -> Iterator[tuple[int, int]]:
    if member.free_from_s is not None:
        yield -LONG_S, member.free_from_s
    if member.free_until_s is not None:
        yield member.free_until_s, LONG_S
    if member.team in teams:
        for heat in plan.day_of(member.team):
            yield heat.start_s - rules.warm_up_s, heat.end_s + rules.recover_s


def _barred(member: CrewMember, judged: dict[str, Team]) -> frozenset[str]:
    own = {member.team, *member.family_in} - {""}
    return frozenset(shift for shift, team in judged.items() if team.id in own)


def _costs(member: CrewMember, judged: dict[str, Team]) -> dict[str, int]:
    if not member.gym:
        return {}
    return {shift: OWN_GYM_MIN for shift, team in judged.items() if team.gym == member.gym}


def _debts(members: tuple[CrewMember, ...], rules: RotaRules) -> tuple[Debt, ...]:
    return tuple(
        Debt(
            team=owing.team,
            hands=tuple(
                member.person
                for member in members
                if member.team == owing.team and "judge" in member.posts
            ),
            heats=owing.heats,
        )
        for owing in rules.owing
    )
