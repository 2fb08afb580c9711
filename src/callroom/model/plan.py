"""Plans: which heat is when, where, and who stands in which lane."""

import msgspec

from callroom.model.rota import Rota
from callroom.model.wishes import Pause


class LaneTeam(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A team in a lane."""

    lane: int
    team: str


class Heat(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One heat of one workout.

    `start_s` is when the teams walk on, `end_s` when the kit is off the floor, both in
    whole seconds from the day's start. The clock starts after walk-on and countdown.
    `number` counts the heats of the workout in the order they are run.
    """

    id: str
    workout: str
    floor: str
    number: int
    start_s: int
    end_s: int
    lanes: tuple[LaneTeam, ...]

    @property
    def teams(self) -> tuple[str, ...]:
        """The teams of the heat, by lane."""
        return tuple(place.team for place in self.lanes)

    def lane_of(self, team_id: str) -> int | None:
        """Return the lane of a team, or None if it is not in this heat."""
        for place in self.lanes:
            if place.team == team_id:
                return place.lane
        return None


class Plan(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A whole day on paper.

    `revision` rises by one with every publication and is printed on every sheet;
    `inputs_digest` names the data it was made from, so that a plan made from older data
    is recognised. `proven` says in how far the finish is known to be the least possible:
    the bound [s from the day's start], valid for this set of heats.
    """

    revision: int
    inputs_digest: str
    heats: tuple[Heat, ...]
    pauses: tuple[Pause, ...] = ()
    finish_s: int = 0
    bound_s: int | None = None

    def heat(self, heat_id: str) -> Heat:
        """Return a heat by id; KeyError if there is none."""
        for heat in self.heats:
            if heat.id == heat_id:
                return heat
        raise KeyError(heat_id)

    def heat_of(self, workout_id: str, team_id: str) -> Heat | None:
        """Return the heat in which a team does a workout, or None."""
        for heat in self.heats:
            if heat.workout == workout_id and heat.lane_of(team_id) is not None:
                return heat
        return None

    def day_of(self, team_id: str) -> tuple[Heat, ...]:
        """Return a team's heats in time order."""
        mine = (heat for heat in self.heats if heat.lane_of(team_id) is not None)
        return tuple(sorted(mine, key=lambda heat: (heat.start_s, heat.id)))


class PlanTold(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How the plan in force was told: by which entry, when [ms, UTC], and whether it is frozen.

    A frozen plan is not planned anew; what the day does to it can still be repaired.
    """

    seq: int
    at_ms: int
    frozen: bool = False


class PlanRepair(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A repair that was accepted: the revision it made, why, and plan and rota before it."""

    revision: int
    seq: int
    at_ms: int
    why: str
    before: Plan
    rota_before: Rota | None = None
