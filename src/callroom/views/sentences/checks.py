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
        "check.variation_unknown": N_(
            'Workout {workout}, task {task}: {movement} has no variation "{variation}". Write one'
            " of {variations}, or add it on the movement's own page."
        ),
        "check.unit_unfit": N_(
            "Workout {workout}, task {task}: the standard of {movement} says how to count {units},"
            " not {unit}. Count it so, or add how to count {unit} on the movement's own page."
        ),
        "check.setting_missing": N_(
            "Workout {workout}, task {task}: {movement} has no {setting} yet, so everybody would"
            " ask. Say them for all, or by division."
        ),
        "check.rule_unknown": N_(
            'Division {division} allows or bars "{given}", which the library does not have.'
            " Correct the name, or take it out."
        ),
    }
)
