"""What the kit says: what is short, which load is not reached, what does not fit its time."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "plates.unreachable": N_(
            "Heat {heat}, lane {lane} {station}: {wanted} cannot be loaded from these bars and"
            " plates. The nearest are {below} and {above}. Publish one of those, or find smaller"
            " plates."
        ),
        "plates.not_together": N_(
            "Heat {heat}, lane {lane} {station}: {wanted} cannot be loaded while the other lanes"
            " have their plates; {instead} can. Borrow plates, or leave a lane empty."
        ),
        "plates.bar_missing": N_(
            "Heat {heat}, lane {lane} {station}: there is no bar left. Borrow one, or leave a lane"
            " empty."
        ),
        "plates.lack": N_(
            "To borrow: {pieces} more of the {kind} of {mass}; the first heat to miss it is {heat}."
        ),
        "plates.changeover_needs_people": N_(
            "Before heat {heat} the bars take {people} people {takes_s}, and the floor is free for"
            " {given_s}. With {needed} people it fits; or plan a longer changeover."
        ),
        "plates.changeover_too_long": N_(
            "Before heat {heat} the floor is free for {given_s}, and one bar alone takes"
            " {longest_s}. Plan a longer changeover, or have a second bar ready."
        ),
        "kit.short": N_(
            "Heat {heat} needs {needed} of {item} {mass} at once, and there are {there}. Borrow"
            " some, or leave lanes empty."
        ),
        "kit.lane_short": N_(
            "Workout {workout}: one lane of division {division} needs {needed} of {item} {mass} at"
            " once, and the kit list has {there} for this floor. Let fewer work at a time, choose"
            " what there is, or add it to the kit list."
        ),
        "kit.not_listed": N_(
            "Heat {heat} needs {needed} of {item}, which the kit list does not name. Add it if it"
            " is there."
        ),
        # Loadings against the kit list.
        "check.plates_too_many": N_(
            "Heat {heat}: {used} plates of {mass} are loaded at once, and there are {there}."
        ),
        "check.bars_too_many": N_(
            "Heat {heat}: {used} bars of {mass} are used at once, and there are {there}."
        ),
        "check.plate_unknown": N_("Heat {heat}, lane {lane}: the kit list has no plate of {mass}."),
        "check.load_doubled": N_(
            "Heat {heat}, lane {lane} {station}: one bar is loaded twice. Take one out."
        ),
        "check.plates_without_bar": N_(
            "Heat {heat}, lane {lane} {station}: there are plates and no bar."
        ),
        "check.light_inside": N_(
            "Heat {heat}, lane {lane} {station}: a heavier plate is outside a lighter one."
        ),
        "check.sleeve_too_full": N_(
            "Heat {heat}, lane {lane}: {plates} plates on one sleeve; {most} fit."
        ),
        "check.load_not_reached": N_(
            "Heat {heat}, lane {lane} {station}: the bar has {given} on it; {wanted} is wanted."
        ),
        "check.lane_without_bar": N_("Heat {heat}, lane {lane} {station}: there is no bar."),
    }
)
