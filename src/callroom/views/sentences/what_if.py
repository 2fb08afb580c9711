"""What one change of a day is, and what comes of it."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        # The change.
        "what_if.finish_later": N_("Finish by {finish_by_at_s}, {by_s} later."),
        "what_if.start_earlier": N_("Start the first heat at {first_at_s}, {by_s} earlier."),
        "what_if.rest_less": N_("Let teams rest {rest_s}, which is {by_s} less."),
        "what_if.rest_more": N_("Let teams rest {rest_s}, which is {by_s} more."),
        "what_if.pause_shorter": N_("Make {pause} {length_s} long, which is {by_s} less."),
        "what_if.judges_more": N_("Find {more} more judges, {judges} at once."),
        "what_if.judges_fewer": N_("Do with {fewer} judges fewer, {judges} at once."),
        "what_if.changeovers_faster": N_(
            "Be up to {by_s} faster in every changeover: {same_s} within a division, {division_s}"
            " to another division, {workout_s} to another workout. That takes more hands."
        ),
        "what_if.order_kept": N_("Let teams keep their heat companions all day."),
        "what_if.order_neighbours": N_(
            "Let the standings move a team one heat up or down between workouts."
        ),
        "what_if.order_reseeded": N_("Seed later workouts anew from the standings."),
        "what_if.mixed_heats": N_("Let what is left of the divisions share heats."),
        "what_if.pure_heats": N_("Keep every heat to one division."),
        "what_if.any_order": N_("Let teams do the workouts in any order."),
        "what_if.listed_order": N_("Let every team do the workouts in the order listed."),
        "what_if.take_turns": N_(
            "Let heats of different divisions and workouts take turns on a floor, without a"
            " constant rhythm."
        ),
        "what_if.whole_blocks": N_("Run whole blocks of heats at a constant rhythm."),
        "what_if.finals_anywhere": N_("Run the finals with the other heats of their division."),
        "what_if.waves_given_up": N_("Let the divisions of all waves be there at once."),
        "what_if.day_longer": N_("Keep {day} open until {closes_at_s}, {by_s} longer."),
        "what_if.kit_more": N_("Find {more} more of {kit}, {count} in all."),
        "what_if.lock_lifted": N_("Lift lock {number}."),
        "what_if.hours_lifted": N_("Ask the team of row {number} of the hours to stay longer."),
        "what_if.apart_lifted": N_("Let the teams of row {number} be on the floors at once."),
        "what_if.starts": N_("Let heats start on every multiple of {slot_s}."),
        "what_if.lanes_more": N_(
            "Mark lanes on floor {floor}: {more} more, {lanes} in all, with the kit for them."
        ),
        "what_if.lanes_and_judges_more": N_(
            "Mark lanes on floor {floor}: {more} more, {lanes} in all, with the kit for them, and"
            " find their judges, {judges} at once."
        ),
        "what_if.lanes_held": N_(
            "Hold {held} more lanes of floor {floor} for re-runs, and fill {lanes}."
        ),
        # What comes of it when a day cannot be done.
        "why_not.does_and_less_does_not": N_(
            "The day can then be done, and is over at {finish_at_s} or earlier. A smaller change"
            " would not do."
        ),
        "why_not.possible": N_(
            "The day can then be done, and is over at {finish_at_s} or earlier."
        ),
        "why_not.does": N_(
            "The day can then be done, and is over at {finish_at_s} or earlier. A smaller change"
            " may do."
        ),
        "why_not.in_vain": N_("That alone does not make the day possible."),
        "why_not.undecided": N_("? Whether that would do was not found out in the time given."),
    }
)
