"""Who must be told what, from the difference of two plans."""

from collections.abc import Iterator, Mapping

from callroom.model.plan import Heat, Plan
from callroom.planner.day_now import DayNow, Notice
from callroom.planner.repair.rules import RULES


def notices(before: Plan, after: Plan, now: DayNow) -> tuple[Notice, ...]:
    """Return who must be told what, soonest first.

    One notice for all teams of a heat that only its time or floor changes for; one for each
    team whose lane or heat changes; one for each lane that stays empty, which its judge has
    to know. Teams that have withdrawn are told nothing.
    """
    old = {(heat.workout, team): heat for heat in before.heats for team in heat.teams}
    published = {heat.id: heat for heat in before.heats}
    found: list[tuple[int, Notice]] = []
    for heat in after.heats:
        if not now.touched(heat.id):
            mine = _of_heat(heat, published.get(heat.id), old, now)
            found.extend((heat.start_s, notice) for notice in mine)
    kept = {heat.id for heat in after.heats}
    for heat in before.heats:
        if heat.id not in kept:
            said = RULES.found(
                "tell.heat_closed",
                f"heat.{heat.id}",
                heat=heat.id,
                floor=heat.floor,
                new_at_s=heat.start_s,
            )
            found.append((heat.start_s, Notice(heat=heat.id, teams=(), said=said)))
    return tuple(notice for _, notice in sorted(found, key=lambda pair: pair[0]))


def _of_heat(
    heat: Heat, was: Heat | None, old: Mapping[tuple[str, str], Heat], now: DayNow
) -> Iterator[Notice]:
    at = f"heat.{heat.id}"
    mine = [team for team in heat.teams if team not in now.withdrawn]
    if was is None:
        said = RULES.found(
            "tell.new_heat",
            at,
            heat=heat.id,
            new_at_s=heat.start_s,
            floor=heat.floor,
            teams=len(mine),
        )
        yield Notice(heat=heat.id, teams=(), said=said)
    stayed = [team for team in mine if was is not None and team in was.teams]
    if was is not None:
        yield from _moved(heat, was, tuple(stayed))
    for place in heat.lanes:
        if place.team in now.withdrawn:
            yield from _empty(heat, place.team, place.lane)
        elif place.team not in stayed:
            yield _other_heat(heat, place.team, place.lane, old)
        elif was is not None and was.lane_of(place.team) != place.lane:
            said = RULES.found(
                "tell.team_lane",
                f"team.{place.team}",
                team=place.team,
                heat=heat.id,
                lane=place.lane,
            )
            yield Notice(heat=heat.id, teams=(place.team,), said=said)


def _moved(heat: Heat, was: Heat, teams: tuple[str, ...]) -> Iterator[Notice]:
    at, by_s = f"heat.{heat.id}", heat.start_s - was.start_s
    if by_s:
        said = RULES.found(
            "tell.heat_later" if by_s > 0 else "tell.heat_earlier",
            at,
            heat=heat.id,
            by_s=abs(by_s),
            was_at_s=was.start_s,
            new_at_s=heat.start_s,
            floor=heat.floor,
        )
        yield Notice(heat=heat.id, teams=teams, said=said)
    if heat.floor != was.floor:
        said = RULES.found(
            "tell.heat_floor", at, heat=heat.id, floor=heat.floor, new_at_s=heat.start_s
        )
        yield Notice(heat=heat.id, teams=teams, said=said)


def _empty(heat: Heat, team: str, lane: int) -> Iterator[Notice]:
    said = RULES.found(
        "tell.lane_empty", f"heat.{heat.id}", team=team, heat=heat.id, floor=heat.floor, lane=lane
    )
    yield Notice(heat=heat.id, teams=(), said=said)


def _other_heat(heat: Heat, team: str, lane: int, old: Mapping[tuple[str, str], Heat]) -> Notice:
    was = old.get((heat.workout, team))
    said = RULES.found(
        "tell.team_heat",
        f"team.{team}",
        team=team,
        workout=heat.workout,
        was="" if was is None else was.id,
        heat=heat.id,
        new_at_s=heat.start_s,
        floor=heat.floor,
        lane=lane,
    )
    return Notice(heat=heat.id, teams=(team,), said=said)
