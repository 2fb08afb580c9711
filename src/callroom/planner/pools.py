"""What all floors share: kit, judges by the hour, the warm-up area, whoever briefs."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from callroom.model.event import Event
from callroom.model.wish_rows import JudgeSpell
from callroom.planner.heat_teams import HeatTeams
from callroom.planner.problem import Dip, Need, Pool

Heats = Sequence[HeatTeams]


def pools(event: Event, heats: Heats) -> Iterator[Pool]:
    """Yield every pool of a day that limits something."""
    wishes = event.wishes
    length_s = {workout.id: workout.floor_s for workout in event.workouts}
    for kit in wishes.shared_kit:
        per_lane = {share.workout: share.per_lane for share in kit.shares}
        needs = tuple(
            Need(
                slot=heat.id,
                count=per_lane[heat.workout] * len(heat.teams),
                length_s=length_s[heat.workout],
            )
            for heat in heats
            if heat.workout in per_lane
        )
        yield Pool(id=f"kit {kit.id}", limit=kit.count, needs=needs)
    if wishes.judge_spells:
        yield _judges(event, heats)
    if wishes.warm_up_s and wishes.warm_up_heats:
        ahead_s = wishes.warm_up_s + wishes.briefing_s
        needs = tuple(_ahead(heat, ahead_s, wishes.warm_up_s) for heat in heats)
        yield Pool(id="warm-up", limit=wishes.warm_up_heats, needs=needs)
    if wishes.briefing_s:
        needs = tuple(_ahead(heat, wishes.briefing_s, wishes.briefing_s) for heat in heats)
        yield Pool(id="briefing", limit=1, needs=needs)


def _ahead(heat: HeatTeams, ahead_s: int, length_s: int) -> Need:
    return Need(slot=heat.id, count=1, from_s=-ahead_s, length_s=length_s)


def _judges(event: Event, heats: Heats) -> Pool:
    """Return the judges as a pool with a dip wherever there are fewer than ever."""
    workouts = {workout.id: workout for workout in event.workouts}
    needs = tuple(
        Need(
            slot=heat.id,
            count=workouts[heat.workout].judges_per_lane * len(heat.teams),
            length_s=workouts[heat.workout].floor_s,
        )
        for heat in heats
    )
    spells = event.wishes.judge_spells
    usual = event.wishes.judges_at_once
    if usual is None:
        usual = sum(need.count for need in needs)
    most = max(usual, *(spell.judges for spell in spells))
    dips = tuple(
        Dip(start_s=start_s, end_s=end_s, count=most - judges)
        for start_s, end_s, judges in _hours(spells, usual)
        if judges < most
    )
    return Pool(id="judges", limit=most, needs=needs, dips=dips)


WEEK_S = 7 * 24 * 3600


def _hours(spells: Iterable[JudgeSpell], usual: int) -> Iterator[tuple[int, int, int]]:
    """Yield from when until when there are how many judges; of two spells the later listed."""
    rows = tuple(spells)
    cuts = {0, WEEK_S} | {s.from_s for s in rows} | {s.until_s for s in rows}
    for start_s, end_s in pairwise(sorted(cuts)):
        told = [spell.judges for spell in rows if spell.from_s <= start_s < spell.until_s]
        yield start_s, end_s, told[-1] if told else usual
