"""A running day repaired: the least that must change, and a better order only if it pays."""

from collections.abc import Iterable, Mapping

import msgspec

from callroom.model.event import Event
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.planner.check.repair import check_repair
from callroom.planner.day_now import DayNow, How, Repaired
from callroom.planner.repair.cost import cost
from callroom.planner.repair.forward import At, keep_order
from callroom.planner.repair.lanes import Fitted, fit_lanes
from callroom.planner.repair.notices import notices
from callroom.planner.repair.question import Reorder, reordering
from callroom.planner.repair.rules import RULES
from callroom.planner.repair.to_come import Coming, rest_of, told_by
from callroom.planner.timetable import Limits

PAYS_PERCENT = 75
"""Another order is offered only if it costs at most this much of what the published one does."""
REORDER = Limits(work=1, wall_s=1)
"""On the day nobody waits longer for a proposal; a slow machine finds fewer."""


def repair(event: Event, teams: Iterable[Team], plan: Plan, now: DayNow) -> Repaired:
    """Return the day from now on in the order published.

    Parameters
    ----------
    event, teams, plan
        The day as published, with every team that entered.
    now
        How it stands.

    Returns
    -------
    Repaired
        ``unchanged`` with the published plan itself where nothing has to move: after a
        withdrawal the lane stays empty. No heat starts earlier than any of its teams was told.
    """
    entered = tuple(teams)
    fitted = _fitted(event, entered, plan, now)
    return _repaired(
        event, entered, plan, now, fitted=fitted, placed=keep_order(fitted.rest), how="kept_order"
    )


def repair_reordered(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    now: DayNow,
    *,
    reorder: Reorder,
    limits: Limits = REORDER,
) -> Repaired | None:
    """Return the day from now on with some heats in other places, if that pays.

    Parameters
    ----------
    reorder
        ``callroom.planner.solve.reorder``, handed in so that only the process that searches
        loads it.
    limits
        For the search.

    Returns
    -------
    Repaired or None
        None if nothing costs clearly less than :func:`repair` does, or keeps more wishes.
    """
    entered = tuple(teams)
    fitted = _fitted(event, entered, plan, now)
    kept = keep_order(fitted.rest)
    kept_cost = cost(fitted.rest, kept)
    if not kept_cost:
        return None
    question = reordering(fitted.rest, kept)
    placed = reorder(question, limits)
    if placed is None and question.overdue():
        placed = reorder(question.patient(), limits)
    if placed is None:
        return None
    found = _repaired(event, entered, plan, now, fitted=fitted, placed=placed, how="reordered")
    usual = _repaired(event, entered, plan, now, fitted=fitted, placed=kept, how="kept_order")
    cheaper = found.cost * 100 <= kept_cost * PAYS_PERCENT
    broken, before = len(found.findings), len(usual.findings)
    return found if broken < before or (cheaper and broken == before) else None


def _fitted(event: Event, teams: tuple[Team, ...], plan: Plan, now: DayNow) -> Fitted:
    return fit_lanes(event, rest_of(event, teams, plan, now), told_by(plan), now)


def _repaired(
    event: Event,
    teams: tuple[Team, ...],
    plan: Plan,
    now: DayNow,
    *,
    fitted: Fitted,
    placed: Mapping[str, At],
    how: How,
) -> Repaired:
    changed = _plan(plan, now, fitted.rest.heats, placed)
    same = changed.heats == _in_order(plan.heats)
    after = plan if same else changed
    told = notices(plan, after, now)
    homeless = tuple(
        RULES.found("tell.no_room", f"team.{team}", team=team, workout=workout)
        for workout, team in fitted.homeless
    )
    return Repaired(
        how="unchanged" if same else how,
        plan=after,
        cost=cost(fitted.rest, placed),
        notices=told,
        findings=(*homeless, *check_repair(event, teams, plan, after, now=now, notices=told)),
    )


def _plan(plan: Plan, now: DayNow, heats: tuple[Coming, ...], placed: Mapping[str, At]) -> Plan:
    """Return the next revision: what has begun as published, the rest where it is put."""
    begun = [heat for heat in plan.heats if now.touched(heat.id)]
    coming = [_heat(heat, placed[heat.id]) for heat in heats]
    row = _in_order((*begun, *coming))
    return msgspec.structs.replace(
        plan,
        revision=plan.revision + 1,
        heats=row,
        finish_s=max((heat.end_s for heat in row), default=0),
        bound_s=None,
    )


def _heat(heat: Coming, at: At) -> Heat:
    return Heat(
        id=heat.id,
        workout=heat.workout,
        floor=at.floor,
        number=heat.number,
        start_s=at.start_s,
        end_s=at.start_s + heat.length_s,
        lanes=heat.lanes,
    )


def _in_order(heats: Iterable[Heat]) -> tuple[Heat, ...]:
    return tuple(sorted(heats, key=lambda heat: (heat.start_s, heat.id)))
