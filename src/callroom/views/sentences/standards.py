"""What is said of a director's own movement files."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "standards.cannot_open": N_(
            "{file} cannot be opened: {detail}. Check the name and the folder."
        ),
        "standards.too_large": N_(
            "{file} is larger than {most_kb} kB, so it is no list of movements. Choose another"
            " file."
        ),
        "standards.not_toml": N_(
            "{file} is not a TOML file: {detail}. Correct that place, or save it again as UTF-8."
        ),
        "standards.key_missing": N_("this key is missing. Add it."),
        "standards.key_unknown": N_(
            'this key is not known here. The nearest is "{near}"; the known ones are {known}.'
        ),
        "standards.no_table": N_(
            "{given} is not a table. Write the keys in braces or below a heading."
        ),
        "standards.no_list": N_("{given} is not a list. Put it in brackets."),
        "standards.wrong_kind": N_("{given} does not fit here. A {wanted} is needed."),
        "standards.no_such_choice": N_(
            '"{given}" is not one of {choices}. The nearest is "{near}".'
        ),
        "standards.text_empty": N_("there is no text. Write one."),
        "standards.text_long": N_('"{given}" has {length} characters. Shorten it to {most}.'),
        "standards.list_empty": N_("the list is empty. Give at least one."),
        "standards.number_bounds": N_(
            "{given} is out of bounds. Write a number from {least} to {most}."
        ),
        "standards.id_form": N_(
            '"{given}" cannot be an id. Use small letters and digits, with'
            " underscores between words."
        ),
        "standards.id_twice": N_('"{given}" is given twice. Give one of the two another id.'),
        "standards.id_taken": N_(
            'there is a movement "{given}" already. Give yours another id, or'
            " write [[change]] to alter that one."
        ),
        "standards.nothing_to_change": N_(
            'there is no movement "{given}" to change. The nearest is "{near}".'
        ),
        "standards.no_such_stage": N_(
            'the movement has no stage "{given}". Write one of {stages}, or draw a figure for it.'
        ),
        "standards.no_such_pose": N_(
            'there is no pose "{given}". The nearest is "{near}"; or add a [[pose]].'
        ),
        "standards.no_such_variation": N_(
            'the movement has no variation "{given}". Write one of {variations}, or add it.'
        ),
        "standards.reading_unfit": N_(
            "the {joint} cannot be read as {reads}. Knee, hip, elbow and shoulder"
            " are read as flexion or interior; the rest from_vertical or from_horizontal."
        ),
        "standards.no_bound": N_("the angle has no bound. Give at_least_deg or at_most_deg."),
        "standards.bounds_crossed": N_(
            "{least} to {most} is no range. Put the smaller number first, and nothing below nought."
        ),
        "standards.measure_unmet": N_(
            'the figure at {stage} does not show "{says}". Choose another pose or'
            " correct the measure."
        ),
        "standards.landmark_not_shown": N_(
            "the figure at {stage} shows no {landmark}, so it cannot be measured."
            " Draw it, or leave the measure out."
        ),
        "standards.no_such_movement": N_(
            'There is no movement "{given}" in the library. The nearest is "{near}".'
        ),
    }
)
