"""What the workout builder cannot read."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "draft.amounts_unreadable": N_(
            '"{given}" is no amount. Type a whole number, or one for each round: 21-15-9.'
        ),
        "draft.not_sound": N_(
            "This workout cannot be drawn yet: something in it must be mended first. Go back to it."
        ),
        "draft.height_unreadable": N_(
            '"{given}" is no height. Type a number with cm, m, in or ft behind it: 60 cm / 24 in.'
        ),
        "movement.number_unreadable": N_(
            '"{given}" is no number. Type one such as 2.5, without its unit.'
        ),
        "movement.measure_unreadable": N_(
            '"{given}" is no measure. Type it like: hip crease below top of knee; knee flexion at'
            " most 10; bar touches shoulder; bar over foot within 0.1."
        ),
        "draft.release_unreadable": N_(
            '"{given}" is no date and time at the venue. Choose a day and a time, or leave it empty.'
        ),
    }
)
