"""What people are told when a plan is repaired, and in what a repair fails."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # Who must be told what.
        "tell.heat_later": N_(
            "Heat {heat} starts at {new_at_s} on floor {floor}, {by_s} later than {was_at_s}."
        ),
        "tell.heat_earlier": N_(
            "Heat {heat} starts at {new_at_s} on floor {floor}, {by_s} earlier than {was_at_s}."
        ),
        "tell.heat_floor": N_("Heat {heat} is run on floor {floor}, at {new_at_s}."),
        "tell.team_lane": N_("Team {team} has lane {lane} in heat {heat}."),
        "tell.team_heat": N_(
            "Team {team} does workout {workout} in heat {heat}, no longer in {was}: at {new_at_s},"
            " floor {floor}, lane {lane}."
        ),
        "tell.lane_empty": N_(
            "Heat {heat}, floor {floor}: lane {lane} stays empty, as team {team} has withdrawn."
        ),
        "tell.new_heat": N_(
            "There is a new heat, {heat}, at {new_at_s} on floor {floor}: {teams} teams."
        ),
        "tell.heat_closed": N_("Heat {heat}, floor {floor}, {new_at_s}, is not run."),
        "tell.no_room": N_(
            "There is no lane left for team {team} in workout {workout}. Open a lane, or let it be"
            " ranked without."
        ),
        # In what a repair fails.
        "check.repair_rewrites": N_("Heat {heat} has begun and cannot be changed any more."),
        "check.repair_in_the_past": N_(
            "Heat {heat} would start at {start_at_s}; it is {now_at_s}."
        ),
        "check.repair_too_early": N_(
            "Heat {heat} would start at {start_at_s}, but team {team} was told {told_at_s} and not"
            " all of the heat are present."
        ),
        "check.repair_lost_lane": N_("Heat {heat}: lane {lane} of floor {floor} cannot be used."),
        "check.repair_lost_floor": N_("Heat {heat}: floor {floor} cannot be used any more."),
        "check.repair_not_ready": N_(
            "Heat {heat} would start at {start_at_s}; floor {floor} is ready at {ready_at_s}."
        ),
        "check.repair_no_kit": N_(
            "Heat {heat} has {lanes} teams; there is kit for {kit} in workout {workout}."
        ),
        "check.repair_team_lost": N_(
            "Team {team} is not in exactly one heat of workout {workout} any more."
        ),
        "check.repair_not_told": N_("Heat {heat} changes for team {team}, and it is not told."),
        "check.repair_told_for_nothing": N_(
            "Team {team} is told something of heat {heat}, where nothing changes for it."
        ),
        "check.repair_floor_doubled": N_(
            "Heats {other} and {heat} would be on floor {floor} at the same time."
        ),
        "check.repair_changeover_short": N_(
            "Floor {floor}: {given_s} between heat {before} and heat {heat}; the changeover wished"
            " is {needed_s}."
        ),
        "check.repair_rest_short": N_(
            "Team {team} rests {given_s} between heat {before} and heat {heat}; the rest wished is"
            " {needed_s}."
        ),
        "check.repair_pause_broken": N_("Heat {heat} runs into {pause}."),
        "check.repair_judges_short": N_(
            "At {start_at_s}, when heat {heat} starts, {needed} judges are needed at once; there"
            " are {limit}."
        ),
        "check.repair_revision": N_(
            "The plan has the revision {revision} after {before}. A changed plan has the next one."
        ),
    }
)
