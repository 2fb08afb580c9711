"""The side programme in words."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.side_programme import SideKind
from callroom.model.words import N_

KIND_NAMES: Mapping[SideKind, str] = MappingProxyType(
    {
        "stall": N_("Stall"),
        "food": N_("Food"),
        "drink": N_("Drink"),
        "attraction": N_("Attraction"),
        "children": N_("Children’s corner"),
        "raffle": N_("Raffle"),
        "collection": N_("Collection"),
        "music": N_("Music"),
        "speech": N_("Speech"),
        "awards": N_("Awards"),
        "other": N_("Something else"),
    }
)
