"""Making a change by hand, and judging what it makes."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from callroom.model.crew import CrewMember
from callroom.model.event import Event
from callroom.model.finding import Finding, errors_among
from callroom.model.plan import Heat, LaneTeam, Plan
from callroom.model.team import Team
from callroom.model.wishes import Pause
from callroom.planner.check import check_plan
from callroom.planner.crew_judges import with_crew_judges
from callroom.planner.prices.price_list import what_ifs
from callroom.planner.touch.locks import following, locked, with_lock, without_lock
from callroom.planner.touch.moves import moved_along, on_floor
from callroom.planner.touch.refused import Impossible
from callroom.planner.touch.touches import (
    DropPause,
    Move,
    PlaceTeam,
    SetLock,
    SetPause,
    SwapHeats,
    TakeChange,
    Touch,
)
from callroom.planner.what_if import knobs

Day = tuple[Event, Plan]
Teams = Mapping[str, Team]


def touched(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    touch: Touch,
    *,
    crew: Iterable[CrewMember] = (),
    known: Sequence[Finding] | None = None,
) -> tuple[Event, Plan, tuple[Finding, ...]]:
    """Return event and plan after one change, with what the check says of them.

    Parameters
    ----------
    event, teams, plan
        The day as wished, every team that needs a heat, and the plan as it stands.
    crew
        Who the judges are counted from, if the event wishes it so.
    known
        What the check said before, if that is known.

    Raises
    ------
    Impossible
        If the change names what is not there, moves what is locked, or makes the plan one that
        cannot be run.
    """
    entered, people = tuple(teams), tuple(crew)
    before = _checked(event, people, entered, plan) if known is None else tuple(known)
    new_event, new_plan = made(event, {team.id: team for team in entered}, plan, touch)
    if new_event == event and _content(new_plan) == _content(plan):
        raise Impossible("touch.nothing")
    after = _checked(new_event, people, entered, new_plan)
    fresh = Counter(map(_mark, errors_among(after))) - Counter(map(_mark, errors_among(before)))
    if fresh:
        wrong = tuple(one for one in errors_among(after) if _mark(one) in fresh)
        raise Impossible(wrong[0].rule, wrong, **wrong[0].facts)
    return new_event, new_plan, after


def _content(plan: Plan) -> object:
    return sorted(plan.heats, key=lambda heat: heat.id), plan.pauses


def _checked(
    event: Event, crew: Sequence[CrewMember], teams: Sequence[Team], plan: Plan
) -> tuple[Finding, ...]:
    return check_plan(with_crew_judges(event, crew), teams, plan)


def _mark(finding: Finding) -> tuple[str, str]:
    return finding.rule, finding.subject


def made(event: Event, teams: Teams, plan: Plan, touch: Touch) -> Day:
    """Return event and plan after one change, not judged; `touched` also judges.

    Raises
    ------
    Impossible
        If the change names what is not there, or moves what is locked.
    """
    match touch:
        case Move():
            return _settled(event, teams, plan, _moved(event, teams, plan, touch))
        case SwapHeats():
            return _settled(event, teams, plan, _swapped(event, teams, plan, touch))
        case PlaceTeam():
            return _settled(event, teams, plan, _placed(event, teams, plan, touch))
        case SetLock():
            heat = _heat(plan, touch.heat)
            if touch.team and heat.lane_of(touch.team) is None:
                raise Impossible("touch.not_in_workout", team=touch.team, workout=heat.workout)
            change = with_lock if touch.on else without_lock
            return change(event, teams, plan, heat, touch.team), plan
        case SetPause():
            return _pinned(event, plan, touch.pause)
        case DropPause():
            left = tuple(one for one in event.wishes.pauses if one.id != touch.pause)
            if left == event.wishes.pauses:
                raise Impossible("touch.no_pause", given=touch.pause)
            return _with_pauses(event, plan, left)
        case TakeChange():
            changed = _taken(event, touch)
            return changed, replace(plan, pauses=changed.wishes.pauses, bound_s=None)


def _heat(plan: Plan, heat_id: str) -> Heat:
    for heat in plan.heats:
        if heat.id == heat_id:
            return heat
    raise Impossible("touch.no_heat", given=heat_id)


def _settled(event: Event, teams: Teams, before: Plan, heats: Iterable[Heat]) -> Day:
    """Return a plan of these heats, numbered in the order they are run, its locks following."""
    numbers: dict[str, int] = {}
    counted = []
    for heat in sorted(heats, key=lambda heat: (heat.start_s, heat.number, heat.id)):
        if heat.lanes:
            numbers[heat.workout] = numbers.get(heat.workout, 0) + 1
            counted.append(replace(heat, number=numbers[heat.workout]))
    after = replace(
        before,
        heats=tuple(counted),
        finish_s=max((heat.end_s for heat in counted), default=0),
        bound_s=None,
    )
    return following(event, teams, before, after), after


def _moved(event: Event, teams: Teams, plan: Plan, touch: Move) -> list[Heat]:
    heat = _heat(plan, touch.heat)
    along = {one.id for one in moved_along(event, teams, plan, heat, touch.reach)}
    _need_unlocked(event, teams, plan, along)
    found = []
    for one in plan.heats:
        if one.id not in along:
            found.append(one)
            continue
        here = touch.floor and one.floor == heat.floor
        put = on_floor(event, one, touch.floor) if here else one
        found.append(_at(put, one.start_s + touch.by_s))
    return found


def _at(heat: Heat, start_s: int) -> Heat:
    return replace(heat, start_s=start_s, end_s=start_s + heat.end_s - heat.start_s)


def _swapped(event: Event, teams: Teams, plan: Plan, touch: SwapHeats) -> list[Heat]:
    one, other = _heat(plan, touch.heat), _heat(plan, touch.other)
    if one.id == other.id:
        raise Impossible("touch.same_heat", heat=one.id)
    _need_unlocked(event, teams, plan, {one.id, other.id})
    put = {
        heat.id: replace(_at(on_floor(event, heat, to.floor), to.start_s), number=to.number)
        for heat, to in ((one, other), (other, one))
    }
    return [put.get(heat.id, heat) for heat in plan.heats]


def _placed(event: Event, teams: Teams, plan: Plan, touch: PlaceTeam) -> list[Heat]:
    target = _heat(plan, touch.heat)
    own = plan.heat_of(target.workout, touch.team)
    if own is None:
        raise Impossible("touch.not_in_workout", team=touch.team, workout=target.workout)
    other = next((one.team for one in target.lanes if one.lane == touch.lane), "")
    held = locked(event, teams, plan).places
    for team, where in ((touch.team, own), (other, target)):
        if (target.workout, team) in held:
            raise Impossible("touch.team_locked", team=team, heat=where.id)
    from_lane = own.lane_of(touch.team) or 0
    taken = {(own.id, from_lane): other, (target.id, touch.lane): touch.team}
    return [_with_lanes(heat, taken) if heat in (own, target) else heat for heat in plan.heats]


def _with_lanes(heat: Heat, taken: Mapping[tuple[str, int], str]) -> Heat:
    """Return a heat with other teams in some of its lanes; nobody's is left empty."""
    lanes = {one.lane: one.team for one in heat.lanes}
    lanes |= {lane: team for (heat_id, lane), team in taken.items() if heat_id == heat.id}
    rows = (LaneTeam(lane=lane, team=team) for lane, team in sorted(lanes.items()) if team)
    return replace(heat, lanes=tuple(rows))


def _need_unlocked(event: Event, teams: Teams, plan: Plan, heats: set[str]) -> None:
    held = locked(event, teams, plan).heats
    for heat in plan.heats:
        if heat.id in heats and heat.id in held:
            raise Impossible("touch.locked", heat=heat.id)


def _pinned(event: Event, plan: Plan, pause: Pause) -> Day:
    if pause.length_s <= 0 or not pause.name:
        raise Impossible("touch.pause_empty")
    known = {floor.id for floor in event.floors}
    for floor in pause.floors:
        if floor not in known:
            raise Impossible("touch.no_floor", given=floor)
    pauses = event.wishes.pauses
    if any(one.id == pause.id for one in pauses):
        changed = tuple(pause if one.id == pause.id else one for one in pauses)
    else:
        changed = (*pauses, pause)
    return _with_pauses(event, plan, changed)


def _with_pauses(event: Event, plan: Plan, pauses: tuple[Pause, ...]) -> Day:
    wishes = replace(event.wishes, pauses=pauses)
    return replace(event, wishes=wishes), replace(plan, pauses=pauses, bound_s=None)


def _taken(event: Event, touch: TakeChange) -> Event:
    for knob in (*knobs(event), *what_ifs(event)):
        if (knob.kind, knob.subject) == (touch.kind, touch.subject) and touch.level in knob.levels:
            return knob.apply(event, touch.level)
    raise Impossible("plan.nothing_to_take")
