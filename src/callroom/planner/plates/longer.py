"""Changeovers long enough for the bars, to plan the day again with."""

from collections.abc import Iterable
from itertools import pairwise

import msgspec

from callroom.model.event import Event
from callroom.model.plan import Heat, Plan
from callroom.model.team import Team
from callroom.model.wishes import Wishes
from callroom.planner.plates.changeovers import Changeover

MINUTE_S = 60


def longer_changeovers(
    event: Event, teams: Iterable[Team], plan: Plan, sheets: Iterable[Changeover]
) -> Wishes:
    """Return the event's wishes with changeovers, in whole minutes, that the bars fit into.

    A changeover that is too short lengthens its kind: to another workout, to another
    division, or within one. Kinds never fall: to another workout takes at least as long as
    to another division. Where everything fits the wishes come back as they are.
    """
    divisions = {team.id: team.division for team in teams}
    wishes = event.wishes
    least = {
        "same": wishes.changeover_same_s,
        "division": wishes.changeover_division_s,
        "workout": wishes.changeover_workout_s,
    }
    before = _before(plan)
    for sheet in sheets:
        if sheet.given_s is None or sheet.takes_s <= sheet.given_s:
            continue
        heat = plan.heat(sheet.heat)
        kind = _kind(before[heat.id], heat, divisions)
        least[kind] = max(least[kind], -(-sheet.takes_s // MINUTE_S) * MINUTE_S)
    division_s = max(least["division"], least["same"])
    return msgspec.structs.replace(
        wishes,
        changeover_same_s=least["same"],
        changeover_division_s=division_s,
        changeover_workout_s=max(least["workout"], division_s),
    )


def _before(plan: Plan) -> dict[str, Heat]:
    """Return the heat that ran on the floor before, by the id of each but a floor's first."""
    found: dict[str, Heat] = {}
    for floor in {heat.floor for heat in plan.heats}:
        row = sorted(
            (heat for heat in plan.heats if heat.floor == floor), key=lambda heat: heat.start_s
        )
        found |= {after.id: before for before, after in pairwise(row)}
    return found


def _kind(before: Heat, after: Heat, divisions: dict[str, str]) -> str:
    if before.workout != after.workout:
        return "workout"
    one, other = (
        {divisions[team] for team in heat.teams if team in divisions} for heat in (before, after)
    )
    return "same" if one == other else "division"
