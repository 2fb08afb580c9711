"""Teams of one division to the heats of a later workout anew, by where they stand.

Heats keep their ids, times, floors and the lanes of other divisions; only who of the division is
in which heat and lane changes. Whoever is no longer ranked is left out.
"""

from collections.abc import Callable, Mapping, Sequence

import msgspec
from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.floor import Floor
from callroom.model.plan import Heat, LaneTeam
from callroom.model.wishes import HeatPattern, OrderRule, Wishes
from callroom.planner.seeding.lanes import centre_out, lanes_for

# As in :mod:`callroom.planner.seeding.heats`: how many of the last heats are dealt round.
_CIRCLED: Mapping[HeatPattern, int] = {"circle": 3, "circle_last_two": 2, "best_last": 1}


class Reseeding(msgspec.Struct, frozen=True, kw_only=True):
    """The heats of a workout as the standings of a division would seed them.

    Attributes
    ----------
    rule
        How far the standings may move a team into this workout, as the event wishes.
    ranked
        The teams that are in these heats and still in the event, best first; level ones by lot.
    before, after
        The heats that would change, as they are and as they would be.
    awaited
        Parts of earlier workouts, as (workout, part), that are not confirmed for the division.
    begun
        Heats of the workout that are called or have run: it is too late.
    """

    workout: str
    division: str
    rule: OrderRule
    ranked: tuple[str, ...]
    before: tuple[Heat, ...]
    after: tuple[Heat, ...]
    awaited: tuple[tuple[str, str], ...]
    begun: tuple[str, ...]

    @property
    def ready(self) -> bool:
        """Whether it may be decided now, and would change something."""
        return bool(self.after) and not self.awaited and not self.begun


def reseeded(
    event: Event,
    heats: Sequence[Heat],
    mine: Callable[[str], bool],
    ranked: Sequence[str],
    rule: OrderRule,
) -> tuple[Heat, ...]:
    """Return the heats of a workout with the teams of a division seeded anew.

    Parameters
    ----------
    heats
        The heats of the workout, in running order.
    mine
        Whether a team is of the division.
    ranked
        The teams of the division that are in these heats and still in the event, best first.
    rule
        ``reseeded``: anywhere; ``neighbours``: at most one heat of the division up or down;
        ``kept``: in the heats they are in, without those who left.
    """
    own = [heat for heat in heats if any(map(mine, heat.teams))]
    before = {team: at for at, heat in enumerate(own) for team in heat.teams if mine(team)}
    room = [sum(map(mine, heat.teams)) for heat in own]
    if rule == "reseeded":
        sizes = fitting_sizes(len(ranked), room, event.wishes.least_per_heat)
        dealt = [
            [ranked[rank] for rank in ranks] for ranks in deal(sizes, event.wishes.heat_pattern)
        ]
    elif rule == "neighbours":
        dealt = _near(ranked, before, room)
    else:
        dealt = [[team for team in ranked if before[team] == at] for at in range(len(own))]
    made = {
        heat.id: _with_teams(heat, event.floor(heat.floor), event.wishes, mine, teams)
        for heat, teams in zip(own, dealt, strict=True)
    }
    return tuple(made.get(heat.id, heat) for heat in heats)


def fitting_sizes(teams: int, room: Sequence[int], least: int) -> list[int]:
    """Return how many teams each heat gets, the last ones full, none under `least` if it goes."""
    sizes = [0] * len(room)
    left = teams
    for at in range(len(room) - 1, -1, -1):
        must = max(0, left - sum(room[:at]))
        wanted = left - least * sum(one > 0 for one in room[:at])
        sizes[at] = min(max(must, wanted, min(least, left)), room[at], left)
        left -= sizes[at]
    return sizes


def deal(sizes: Sequence[int], pattern: HeatPattern) -> list[list[int]]:
    """Return the ranks, from 0 the best, of each heat in running order.

    ``best_last``: the last heat is full of the best, the one before of the next. The circles:
    the best go round the last three (or two) heats, beginning with the last; the others fill
    the heats before, the best last. ``to_and_fro``: to and fro over all of them, from the last.
    """
    found: list[list[int]] = [[] for _ in sizes]
    last = list(range(len(sizes) - 1, -1, -1))
    if pattern == "to_and_fro":
        turns = [last, last[::-1]]
    else:
        circled = _CIRCLED[pattern]
        turns = [last[:circled]]
    rank, turn = 0, 0
    while any(len(found[at]) < sizes[at] for at in turns[0]):
        for at in turns[turn % len(turns)]:
            if len(found[at]) < sizes[at]:
                found[at].append(rank)
                rank += 1
        turn += 1
    for at in last:
        while len(found[at]) < sizes[at]:
            found[at].append(rank)
            rank += 1
    return found


def _near(ranked: Sequence[str], before: Mapping[str, int], room: Sequence[int]) -> list[list[str]]:
    """Fill heats from the last with the best that are at most one heat away.

    Who would otherwise be two heats away has to go first, and no more may be put off than the
    next heat can take in.
    """
    found: list[list[str]] = [[] for _ in room]
    waiting = list(ranked)
    for at in range(len(room) - 1, -1, -1):
        overdue = [team for team in waiting if before[team] == at + 1]
        own = [team for team in waiting if before[team] == at]
        room_below = room[at - 1] if at else 0
        # Of this heat's own teams only as many may be put off as the one below can hold.
        keep = max(0, len(own) - room_below)
        chosen = overdue + own[:keep]
        near = [team for team in waiting if team not in chosen and before[team] in {at, at - 1}]
        chosen += near[: max(0, room[at] - len(chosen))]
        found[at] = sorted(chosen, key=ranked.index)
        waiting = [team for team in waiting if team not in chosen]
    return found


def _with_teams(
    heat: Heat, floor: Floor, wishes: Wishes, mine: Callable[[str], bool], teams: Sequence[str]
) -> Heat:
    others = [place for place in heat.lanes if not mine(place.team)]
    if others:
        used = {place.lane for place in heat.lanes if mine(place.team)}
        central = [lane for lane in centre_out(floor.lane_numbers) if lane in used]
        lanes = dict(zip(teams, central, strict=False))
    else:
        lanes = lanes_for(teams, floor, wishes.lane_pattern, seed=wishes.draw_seed, purpose=heat.id)
    places = [*others, *(LaneTeam(lane=lane, team=team) for team, lane in lanes.items())]
    return replace(heat, lanes=tuple(sorted(places, key=lambda place: place.lane)))
