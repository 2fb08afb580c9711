"""Two measures of a plan besides its finish: how long teams wait, and what it can lose."""

from collections.abc import Iterable, Mapping
from itertools import pairwise

from callroom.model.event import Event
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team


def longest_waits(event: Event, plan: Plan) -> Mapping[str, int]:
    """Return the longest wait of each team between two of its heats [s].

    What a pause of all floors takes out of a wait is not counted; nor is anything before the
    first heat or after the last, on each day of an event.
    """
    opens_s = [day.opens_s for day in event.wishes.days]
    shared = [(p.start_s, p.start_s + p.length_s) for p in event.wishes.pauses if not p.floors]
    days: dict[str, list[Heat]] = {}
    for heat in sorted(plan.heats, key=lambda heat: heat.start_s):
        for team in heat.teams:
            days.setdefault(team, []).append(heat)
    return {
        team: max(
            (
                _net_s(one.end_s, other.start_s, shared)
                for one, other in pairwise(day)
                if not any(one.start_s < open_s <= other.start_s for open_s in opens_s)
            ),
            default=0,
        )
        for team, day in days.items()
    }


def spare_lanes(event: Event, teams: Iterable[Team], plan: Plan) -> int:
    """Return how many lanes every floor can lose before a workout needs another heat.

    Teams are taken to move only between heats of the same workout and the same divisions
    (or the same mix). Nought means that losing one lane makes some block longer.
    """
    division = {team.id: team.division for team in teams}
    blocks: dict[tuple[str, str, frozenset[str]], list[int]] = {}
    for heat in plan.heats:
        mix = frozenset(division[team] for team in heat.teams if team in division)
        key = heat.workout, heat.floor, mix
        blocks.setdefault(key, []).append(len(heat.lanes))
    lanes = {floor.id: len(floor.open_lanes) for floor in event.floors}
    return min(
        (
            max(0, lanes[floor] - -(-sum(counts) // len(counts)))
            for (_, floor, _), counts in blocks.items()
            if floor in lanes
        ),
        default=0,
    )


def _net_s(from_s: int, to_s: int, rests: list[tuple[int, int]]) -> int:
    inside = (min(to_s, end_s) - max(from_s, start_s) for start_s, end_s in rests)
    return to_s - from_s - sum(length_s for length_s in inside if length_s > 0)
