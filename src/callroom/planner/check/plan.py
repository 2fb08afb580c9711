"""A plan held against the event and its teams."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from itertools import pairwise

from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.plan import Plan
from callroom.model.team import Team
from callroom.planner.check.days import check_days, final_heats
from callroom.planner.check.floors import check_floors
from callroom.planner.check.heats import check_heats
from callroom.planner.check.particular import check_particular
from callroom.planner.check.rests import check_rests
from callroom.planner.check.rules import RULES
from callroom.planner.check.shared import check_shared
from callroom.planner.check.stay import DayRules, Rest, Stay
from callroom.planner.check.waits import check_waits


def check_plan(
    event: Event,
    teams: Iterable[Team],
    plan: Plan,
    *,
    withdrawn: Collection[str] = (),
    inputs_digest: str | None = None,
) -> tuple[Finding, ...]:
    """Return everything in which a plan is impossible or breaks a wish.

    Parameters
    ----------
    event, teams
        What the plan must keep to; every entered team.
    plan
        Solved or made by hand.
    withdrawn
        Ids of teams that need no heat any more. They may still stand in the plan: on the
        day their lane stays empty.
    inputs_digest
        The digest of the data in force, if the plan's own shall be compared with it.

    Returns
    -------
    tuple of Finding
        ``error``: cannot be published. ``warning``: breaks a wish. ``note``: a wish that
        the numbers do not allow. Empty if there is nothing to say.
    """
    known = {team.id: team for team in teams}
    stays = tuple(_stays(event, known, plan))
    return (
        *check_heats(event, known, plan, withdrawn),
        *check_floors(stays, _rules(event)),
        *check_rests(event, known, plan),
        *check_days(event, known, plan),
        *check_shared(event, plan),
        *check_particular(event, known, plan),
        *check_waits(event, plan),
        *_secret(event, plan),
        *_said(event, plan, inputs_digest),
    )


def _secret(event: Event, plan: Plan) -> Iterator[Finding]:
    """A workout that is done before anybody may know it: public pages would hide what is seen."""
    for workout in event.workouts:
        own = [heat for heat in plan.heats if heat.workout == workout.id]
        first = min(own, key=lambda heat: heat.start_s, default=None)
        release_s = workout.release_s
        if first is not None and release_s is not None and first.start_s < release_s:
            yield RULES.found(
                "check.before_release",
                f"heat.{first.id}",
                heat=first.id,
                workout=workout.id,
                start_at_s=first.start_s,
                release_at_s=release_s,
            )


def _stays(event: Event, known: Mapping[str, Team], plan: Plan) -> Iterator[Stay]:
    judges = {workout.id: workout.judges_per_lane for workout in event.workouts}
    order = [division.id for division in event.divisions]
    finals = final_heats(event, known, plan)
    for heat in plan.heats:
        present = {known[team].division for team in heat.teams if team in known}
        yield Stay(
            id=heat.id,
            floor=heat.floor,
            start_s=heat.start_s,
            end_s=heat.end_s,
            workout=heat.workout,
            block="+".join(name for name in order if name in present)
            + (" (final)" if heat.id in finals else ""),
            judges=judges.get(heat.workout, 0) * len(heat.lanes),
        )


def _rules(event: Event) -> DayRules:
    wishes = event.wishes
    return DayRules(
        opens_s=0 if wishes.days else wishes.first_heat_s,
        closes_s=None if wishes.days else wishes.finish_by_s,
        grid_s=wishes.slot_s,
        same_s=wishes.changeover_same_s,
        division_s=wishes.changeover_division_s,
        workout_s=wishes.changeover_workout_s,
        rhythm=wishes.constant_rhythm,
        whole_blocks=wishes.constant_rhythm,
        judges_limit=None if wishes.judge_spells else wishes.judges_at_once,
        rests=tuple(
            Rest(pause.id, pause.start_s, pause.start_s + pause.length_s, pause.floors)
            for pause in wishes.pauses
        ),
        nights=tuple(
            Rest(after.id, before.closes_s, after.opens_s, ())
            for before, after in pairwise(wishes.days)
        ),
    )


def _said(event: Event, plan: Plan, inputs_digest: str | None) -> Iterator[Finding]:
    """What the plan says of itself: revision, origin, pauses and finish."""
    revision = plan.revision
    if revision < 0:
        yield RULES.found("check.revision_negative", "plan", revision=revision)
    if inputs_digest is not None and plan.inputs_digest != inputs_digest:
        yield RULES.found("check.made_from_other_data", "plan", revision=revision)
    if plan.pauses != event.wishes.pauses:
        yield RULES.found("check.pauses_differ", "plan", revision=revision)
    finish_s = max((heat.end_s for heat in plan.heats), default=0)
    if plan.finish_s != finish_s:
        yield RULES.found("check.finish_wrong", "plan", said_at_s=plan.finish_s, true_at_s=finish_s)
