"""Sentences for what is found when a whole book is checked."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "check.movement_unknown": N_(
            'Workout {workout}: the movement "{movement}" is not in the library, so its card has'
            " no reasons for no-reps and its kit is not listed. The nearest known: {like}."
        ),
    }
)
