"""How many people an area and its exits hold, by published factors. The local code decides."""

from fractions import Fraction
from math import ceil

from callroom.model.safety import AreaUse, Exit

# International Building Code, table 1004.5 (2021): square feet for each person.
SQUARE_FEET_A_PERSON: dict[AreaUse, int] = {
    "standing": 5,
    "chairs": 7,
    "tables": 15,
    "exercise": 50,
    "classroom": 20,
    "sales": 30,
    "offices": 150,
    "kitchen": 200,
    "storage": 300,
}
_SQUARE_METRES_A_SQUARE_FOOT = Fraction("0.09290304")  # exact by definition

# International Building Code, section 1006.3: exits by the number of persons.
_EXITS_UP_TO = ((49, 1), (500, 2), (1000, 3))
_EXITS_ABOVE = 4

# International Building Code, section 1005.3: inches for each person, and the narrowest door.
_INCHES_LEVEL, _INCHES_STAIRS = Fraction("0.2"), Fraction("0.3")
_INCHES_LEVEL_SPRINKLERED, _INCHES_STAIRS_SPRINKLERED = Fraction("0.15"), Fraction("0.2")
_MM_AN_INCH = Fraction("25.4")
NARROWEST_DOOR_MM = round(32 * _MM_AN_INCH)

DOORS_SWING_OUT_FROM = 50
"""From this many persons, doors swing outwards and open by pushing (same code)."""


def persons_for(area_m2: int | Fraction, use: AreaUse) -> int:
    """Return how many persons an area [m²] holds when used so, rounded down."""
    square_feet = Fraction(area_m2) / _SQUARE_METRES_A_SQUARE_FOOT
    return int(square_feet // SQUARE_FEET_A_PERSON[use])


def exits_needed(persons: int) -> int:
    """Return how many exits a room for so many persons has at least."""
    return next((exits for most, exits in _EXITS_UP_TO if persons <= most), _EXITS_ABOVE)


def persons_through(way: Exit, *, sprinklered: bool = False) -> int:
    """Return for how many persons an exit is wide enough; 0 if narrower than a door may be."""
    if way.width_mm < NARROWEST_DOOR_MM:
        return 0
    if sprinklered:
        inches = _INCHES_STAIRS_SPRINKLERED if way.stairs else _INCHES_LEVEL_SPRINKLERED
    else:
        inches = _INCHES_STAIRS if way.stairs else _INCHES_LEVEL
    return int(Fraction(way.width_mm) / (inches * _MM_AN_INCH))


def width_needed_mm(persons: int, *, stairs: bool = False, sprinklered: bool = False) -> int:
    """Return the clear width all exits together need [mm], rounded up."""
    if sprinklered:
        inches = _INCHES_STAIRS_SPRINKLERED if stairs else _INCHES_LEVEL_SPRINKLERED
    else:
        inches = _INCHES_STAIRS if stairs else _INCHES_LEVEL
    return ceil(persons * inches * _MM_AN_INCH)


def persons_out(exits: tuple[Exit, ...], *, sprinklered: bool = False) -> int:
    """Return for how many persons all exits suffice: by their number, width and balance.

    Balance: with any one exit lost, at least half of what is needed must be left (International
    Building Code, section 1005.5).
    """
    through = [persons_through(way, sprinklered=sprinklered) for way in exits]
    usable = [persons for persons in through if persons]
    if not usable:
        return 0
    by_width = sum(usable)
    by_balance = 2 * (by_width - max(usable)) if len(usable) > 1 else by_width
    return min(by_width, by_balance, _most_by_count(len(usable)))


def _most_by_count(exits: int) -> int:
    most = max((most for most, needed in _EXITS_UP_TO if exits >= needed), default=0)
    return most if exits < _EXITS_ABOVE else 10**9
