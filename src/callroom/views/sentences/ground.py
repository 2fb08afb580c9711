"""Sentences about the floor plan, the side programme and the checklists.

Where no source stands with a rule in `callroom.planner.ground`, it is common practice, no source.
"""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "ground.too_many": N_(
            "{count} things are too many for one drawing: {most} at most. Leave small things out."
        ),
        "ground.twice": N_("“{thing}” is there twice. Take one of them out."),
        "ground.no_space": N_("The way out “{name}” is in “{space}”, which is no space of yours."),
        "ground.no_size": N_(
            "“{given}” is no size: type metres, like 12.5, or feet and inches, like 41' 6\"."
        ),
        "ground.size_range": N_("{given} cannot be right: between {least} and {most}."),
        "ground.size_missing": N_("How large is it? Type the size as you measured it."),
        "side.unknown": N_("There is no “{item}” in the side programme any more."),
        "side.no_floor": N_("“{name}” needs no floor, so nothing has to be kept free for it."),
        "side.no_name": N_("Give it a name that everybody may read."),
        "side.no_time": N_("Say when “{name}” is on: from and until."),
        "side.times": N_("“{given}” is over before it begins: type from and until."),
        "check.no_text": N_("Say what has to be done."),
        "check.not_own": N_(
            "Only points you added can be taken out. Tick this one if it does not concern you."
        ),
    }
)
