"""The plan an expert with a spreadsheet would make, as the baseline of the planner's benchmarks.

Workout after workout, each a column of heats at one spacing: the cap and the changeover between
divisions, in rows of `slot_s` seconds. A column starts as soon as its floor is cleared and every
heat of it is rested; a heat is not started if it and its changeover do not end before lunch.
``hand1`` has rows of a minute, ``hand5`` of five. Where heats may be mixed, what is left of two
divisions shares a heat if it fits; a third is not looked for.

Every such plan passes the check. The table pins the rule down: what it takes for twelve teams and
for the usual day on one floor and on two was worked out beforehand, and the planner plays no part
in it.

Rows for 120 teams (962 minutes, 1,692 one workout after the other), for 400 (1,282 and 1,068;
2,542) and for 1,000 (909 to 1,165; 1,649 to 1,920) were worked out as well, but for days of which
nothing else is known, and they are not pinned here. With 10 to 21 heats a workout no order of the
usual five caps, on floors split in any way, comes within 1% of both figures for 120 teams, nor do
these caps with a sixth of 6 to 20 minutes among them on two floors in turn. Of random caps 3 in 100
do, each with another day, so such a match would pin nothing. For 400 the usual caps with 26 heats a
workout come within 1% of the 2,542, and by no split over two days near the other two.
"""

from collections.abc import Sequence
from itertools import pairwise

from msgspec.structs import replace

from callroom.model import Event, Plan, Team
from callroom.planner import HeatTeams, Placed, compose, plan_of
from planner_days import MINUTE, day_of_12, day_of_48

TABLE_MIN = (
    # day, finish in rows of five minutes, one workout after the other, longest wait
    (day_of_12(), 340, 340, None),
    (day_of_48(floors=1), 832, 832, 185),
    (day_of_48(floors=2), 542, 832, 125),
)


def table_off() -> float:
    """Return by how much the baseline is off the table at worst, as a share."""
    off = [0.0]
    for (event, teams), finish_min, in_turn_min, wait_min in TABLE_MIN:
        plan = plan_by_hand(event, teams, slot_s=5 * MINUTE)
        in_turn = plan_by_hand(event, teams, slot_s=5 * MINUTE, one_floor_at_a_time=True)
        off.append(abs(plan.finish_s / MINUTE / finish_min - 1))
        off.append(abs(in_turn.finish_s / MINUTE / in_turn_min - 1))
        if wait_min is not None:
            off.append(abs(longest_wait_s(event, plan) / MINUTE / wait_min - 1))
    return max(off)


def plan_by_hand(
    event: Event, teams: Sequence[Team], *, slot_s: int, one_floor_at_a_time: bool = False
) -> Plan:
    """Return the expert's plan of one day, for heats in kept order.

    Parameters
    ----------
    event, teams
        One day; heats are mixed by twos if its wishes allow it.
    slot_s
        The rows of the sheet [s].
    one_floor_at_a_time
        Whether a workout waits for the one before it even on another floor.
    """
    heats = _heats(event, teams)
    wishes = event.wishes
    placed: list[Placed] = []
    free_s: dict[str, int] = {}
    rested_s: dict[str, int] = {}
    for workout in event.workouts:
        column = [heat for heat in heats if heat.workout == workout.id]
        floor = "" if one_floor_at_a_time else workout.floor
        stay_s = workout.floor_s + wishes.changeover_division_s
        pitch_s = _up(stay_s, slot_s)
        start_s = max(free_s.get(floor, 0), wishes.first_heat_s)
        for place, heat in enumerate(column):
            rested = (rested_s.get(team, 0) - place * pitch_s for team in heat.teams)
            start_s = max(start_s, *rested)
        start_s = _up(start_s, slot_s)
        for heat in column:
            start_s = _up(_clear_of_pauses(event, start_s, stay_s), slot_s)
            placed.append(Placed(slot=heat.id, floor=workout.floor, start_s=start_s))
            end_s = start_s + workout.floor_s
            rested_s |= dict.fromkeys(heat.teams, end_s + wishes.rest_s)
            free_s[floor] = end_s + wishes.changeover_workout_s
            start_s += pitch_s
    return plan_of(event, heats, placed, Plan(revision=1, inputs_digest="", heats=()))


def _heats(event: Event, teams: Sequence[Team]) -> tuple[HeatTeams, ...]:
    """Return the heats in the order of the columns; what two divisions leave over goes first."""
    pure = replace(event, wishes=replace(event.wishes, mixed_heats=False))
    if not event.wishes.mixed_heats:
        return compose(pure, teams)
    order = [division.id for division in event.divisions]
    row = {name: [team.id for team in teams if team.division == name] for name in order}
    heats: list[HeatTeams] = []
    for workout in event.workouts:
        lanes = len(event.floor(workout.floor).open_lanes)
        shared = _shared(row, lanes)
        heats += [
            HeatTeams(workout=workout.id, divisions=names, rank=1, teams=together)
            for names, together in shared
        ]
        placed = {team for _, together in shared for team in together}
        for name in order:
            left = [team for team in row[name] if team not in placed]
            own = [left[at : at + lanes] for at in range(0, len(left), lanes)]
            heats += [
                HeatTeams(workout=workout.id, divisions=(name,), rank=rank, teams=tuple(heat))
                for rank, heat in enumerate(reversed(own), start=1)
            ]
    return tuple(heats)


def _shared(row: dict[str, list[str]], lanes: int) -> list[tuple[tuple[str, ...], tuple[str, ...]]]:
    """Pair divisions whose remainders fit into one heat, first come, first served."""
    left = {name: len(teams) % lanes for name, teams in row.items() if len(teams) % lanes}
    pairs: list[tuple[tuple[str, ...], tuple[str, ...]]] = []
    while left:
        one, count = next(iter(left.items()))
        del left[one]
        other = next((name for name, more in left.items() if count + more <= lanes), None)
        if other is not None:
            teams = (*row[one][-count:], *row[other][-left.pop(other) :])
            pairs.append(((one, other), teams))
    return pairs


def longest_wait_s(event: Event, plan: Plan) -> int:
    """Return the longest a team waits between two workouts, pauses of all floors not counted [s]."""
    longest_s = 0
    for team in {team for heat in plan.heats for team in heat.teams}:
        for before, after in pairwise(plan.day_of(team)):
            off_s = sum(
                pause.length_s
                for pause in event.wishes.pauses
                if not pause.floors
                and before.end_s <= pause.start_s
                and pause.start_s + pause.length_s <= after.start_s
            )
            longest_s = max(longest_s, after.start_s - before.end_s - off_s)
    return longest_s


def _clear_of_pauses(event: Event, start_s: int, stay_s: int) -> int:
    for pause in sorted(event.wishes.pauses, key=lambda pause: pause.start_s):
        if start_s < pause.start_s + pause.length_s and pause.start_s < start_s + stay_s:
            start_s = pause.start_s + pause.length_s
    return start_s


def _up(value_s: int, slot_s: int) -> int:
    return -(-value_s // slot_s) * slot_s
