"""Cautions for the day: heat stress, capacity, first aid.

Decides: what published limits and factors say of a reading, an area, an exit, a crowd, each with
its source beside it.
Never does: replace local codes, the insurer or a licensed practitioner; stop anything by
itself.
May import: ``model``.
"""

from callroom.safety.crowd import (
    exits_needed,
    persons_for,
    persons_out,
    persons_through,
    width_needed_mm,
)
from callroom.safety.first_aid import first_aiders_needed, rate_holds, seeking_help, shock_after_s
from callroom.safety.heat import (
    HeatLevel,
    IndexBand,
    WorkRest,
    heat_index_f,
    heat_level,
    index_band,
    wet_bulb_globe_c,
    work_and_rest,
)
from callroom.safety.weather import WindLevel, wind_chill_f, wind_level

__all__ = [
    "HeatLevel",
    "IndexBand",
    "WindLevel",
    "WorkRest",
    "exits_needed",
    "first_aiders_needed",
    "heat_index_f",
    "heat_level",
    "index_band",
    "persons_for",
    "persons_out",
    "persons_through",
    "rate_holds",
    "seeking_help",
    "shock_after_s",
    "wet_bulb_globe_c",
    "width_needed_mm",
    "wind_chill_f",
    "wind_level",
    "work_and_rest",
]
