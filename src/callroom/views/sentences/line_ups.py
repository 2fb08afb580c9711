"""Sentences for what the rules of line-ups refuse."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "line_up.no_workout": N_("Say in which workout {team} has this line-up."),
        "line_up.no_heat": N_("{team} has no heat of {workout} in the plan. Look at the plan."),
        "line_up.heat_has_run": N_(
            "{team} has done {workout}, or is doing it: its line-up there stays as it was."
        ),
        "line_up.not_of_squad": N_(
            "{count} of those named are not in the squad of {team}. Choose from its squad only."
        ),
        "line_up.place_unknown": N_("There is no place {place} in the line-up. Use {places}."),
        "line_up.twice": N_("Somebody of {team} stands at two places, or two at one. Look again."),
        "line_up.not_cleared": N_(
            "Somebody in this line-up of {team} stands down. First aid clears them first."
        ),
        "line_up.as_it_is": N_("That is the line-up of {team} already. Nothing was changed."),
        "line_up.wrong_make_up": N_(
            "{team} would have {given} of the category {category} on the floor; its division has "
            "{wanted}. Choose somebody of the category that leaves, or ask the head judge."
        ),
        "line_up.too_late": N_(
            "Line-ups for {workout} could be changed until {until_at_s}. Only the head judge can "
            "allow it now."
        ),
        "line_up.too_many": N_(
            "{team} would have changed {given} athletes over the day; the rules allow {most}. "
            "Only the head judge can allow more."
        ),
        "athlete.stands_down_already": N_("This athlete of {team} stands down already."),
        "athlete.not_stood_down": N_("This athlete of {team} does not stand down. Reload."),
    }
)
