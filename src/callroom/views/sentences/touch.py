"""What is said about a plan changed by hand."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # What was done.
        "touch.moved": N_("Heat {heat} moved to {start_at_s}."),
        "touch.moved_floor": N_("Heat {heat} moved to floor {floor}, {start_at_s}."),
        "touch.moved_block": N_("The whole block of heat {heat} moved, that heat to {start_at_s}."),
        "touch.moved_rest": N_(
            "Heat {heat} and what comes after it moved, that heat to {start_at_s}."
        ),
        "touch.swapped": N_("Heats {heat} and {other_heat} changed places."),
        "touch.placed": N_("{team} put into lane {lane} of heat {heat}."),
        "touch.exchanged": N_("{team} and {other_team} changed places."),
        "touch.locked_now": N_("Heat {heat} locked in its time and on its floor."),
        "touch.unlocked": N_("Heat {heat} unlocked."),
        "touch.team_locked_now": N_("{team} locked in its lane of heat {heat}."),
        "touch.team_unlocked": N_("{team} unlocked in heat {heat}."),
        "touch.pinned": N_("{name} pinned from {from_at_s} until {until_at_s}."),
        "touch.unpinned": N_("{name} taken out of the day."),
        "touch.taken": N_("A wish changed as offered."),
        # What cannot be.
        "touch.locked": N_("Heat {heat} is locked. Unlock it first, then move it."),
        "touch.team_locked": N_("{team} is locked in heat {heat}. Unlock it there first."),
        "touch.no_heat": N_("There is no heat {given} in this draft. Choose one in the picture."),
        "touch.no_pause": N_("Nothing called {given} is pinned in this draft any more."),
        "touch.no_floor": N_("There is no floor {given}. Choose one of the event's floors."),
        "touch.not_in_workout": N_(
            "Team {team} has no heat of workout {workout} in this draft. Choose another team."
        ),
        "touch.same_heat": N_("Heat {heat} cannot change places with itself. Choose another heat."),
        "touch.too_few_lanes": N_(
            "Heat {heat} has {teams} teams, and floor {floor} has {lanes} open lanes. Choose another"
            " floor, or put a team elsewhere first."
        ),
        "touch.pause_empty": N_("Give it a name, and a length of a minute or more."),
        "touch.nothing": N_("That is how it stands already; nothing was changed."),
        "touch.nothing_to_undo": N_("There is no change left to take back."),
        "touch.nothing_to_redo": N_("There is no change left to make again."),
        "touch.changed_meanwhile": N_(
            "Draft {number} was changed in another window meanwhile. Here it is as it stands now."
        ),
        "touch.bad_time": N_("Write a time of the day, such as 14:30; given was {given}."),
    }
)
