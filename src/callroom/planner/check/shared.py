"""Rules of what all floors share: kit, the warm-up area, whoever briefs, judges by the hour."""

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Plan
from callroom.planner.check.rules import RULES


class _Use(NamedTuple):
    """A heat that needs so many pieces of something from when until when [s]."""

    heat: str
    start_s: int
    end_s: int
    pieces: int


def check_shared(event: Event, plan: Plan) -> Iterator[Finding]:
    """Yield where more is needed at once than there is."""
    yield from _kit(event, plan)
    yield from _judge_spells(event, plan)
    yield from _ahead(event, plan)


def _over(uses: list[_Use], limit: int) -> Iterator[tuple[_Use, int]]:
    """Yield what begins while too much is in use, with what is then; use only rises then."""
    for use in uses:
        at_once = sum(one.pieces for one in uses if one.start_s <= use.start_s < one.end_s)
        if at_once > limit:
            yield use, at_once


def _kit(event: Event, plan: Plan) -> Iterator[Finding]:
    for kit in event.wishes.shared_kit:
        per_lane = {share.workout: share.per_lane for share in kit.shares}
        uses = [
            _Use(heat.id, heat.start_s, heat.end_s, per_lane[heat.workout] * len(heat.lanes))
            for heat in plan.heats
            if heat.workout in per_lane
        ]
        for use, needed in _over(uses, kit.count):
            yield RULES.found(
                "check.kit_short",
                f"heat.{use.heat}",
                heat=use.heat,
                kit=kit.name,
                start_at_s=use.start_s,
                needed=needed,
                limit=kit.count,
            )


def _judge_spells(event: Event, plan: Plan) -> Iterator[Finding]:
    """Judges at work in a spell, at its beginning and whenever a heat starts in it."""
    each = {workout.id: workout.judges_per_lane for workout in event.workouts}
    spells = event.wishes.judge_spells
    uses = [
        _Use(heat.id, heat.start_s, heat.end_s, each.get(heat.workout, 0) * len(heat.lanes))
        for heat in plan.heats
    ]
    for place, spell in enumerate(spells):
        moments = {use.start_s for use in uses} | {spell.from_s}
        moments |= {later.until_s for later in spells[place + 1 :]}
        for moment_s in sorted(m for m in moments if spell.from_s <= m < spell.until_s):
            if any(later.from_s <= moment_s < later.until_s for later in spells[place + 1 :]):
                continue
            at_work = [use for use in uses if use.start_s <= moment_s < use.end_s]
            needed = sum(use.pieces for use in at_work)
            if needed > spell.judges:
                heat = max(at_work, key=lambda use: (use.start_s, use.heat)).heat
                yield RULES.found(
                    "check.judges_short",
                    f"heat.{heat}",
                    heat=heat,
                    start_at_s=moment_s,
                    needed=needed,
                    limit=spell.judges,
                )


def _ahead(event: Event, plan: Plan) -> Iterator[Finding]:
    """Warm-ups and briefings, which lie before the start of a heat."""
    wishes = event.wishes
    ahead_s = wishes.warm_up_s + wishes.briefing_s
    if not ahead_s:
        return
    for heat in plan.heats:
        if heat.start_s - ahead_s < 0:
            yield RULES.found(
                "check.no_time_to_warm_up",
                f"heat.{heat.id}",
                heat=heat.id,
                start_at_s=heat.start_s,
                needed_s=ahead_s,
            )
    if wishes.warm_up_heats and wishes.warm_up_s:
        uses = [
            _Use(h.id, h.start_s - ahead_s, h.start_s - wishes.briefing_s, 1) for h in plan.heats
        ]
        for use, heats in _over(uses, wishes.warm_up_heats):
            yield RULES.found(
                "check.warm_ups_crowded",
                f"heat.{use.heat}",
                heat=use.heat,
                start_at_s=use.start_s,
                heats=heats,
                limit=wishes.warm_up_heats,
            )
    if wishes.briefing_s:
        row = sorted(plan.heats, key=lambda heat: (heat.start_s, heat.id))
        for before, heat in pairwise(row):
            if heat.start_s - before.start_s < wishes.briefing_s:
                yield RULES.found(
                    "check.briefings_overlap", f"heat.{heat.id}", heat=heat.id, other=before.id
                )
