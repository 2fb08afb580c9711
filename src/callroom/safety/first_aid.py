"""First aid: how many people, and how far the defibrillator may be. A medical provider decides."""

from math import ceil

# The Event Safety Guide (HSE, UK), as repeated by Bute Park, Lichfield and South Tyneside
# councils: two for each thousand up to three thousand, never fewer than two, with no other duty.
FIRST_AIDERS_A_THOUSAND, LEAST_FIRST_AIDERS, _RATE_HOLDS_TO = 2, 2, 3000

# What's latest on first aid for events, Lighthouse Risk Services, 2017: share of those present
# who seek help [%].
SEEKING_HELP_PERCENT = (1, 2)

# American Heart Association placement advice, as restated by a supplier: from collapse to shock.
COLLAPSE_TO_SHOCK_S = 180

# Opening the case and putting the pads on (common practice, no source).
PADS_ON_S = 60


def first_aiders_needed(persons: int) -> int:
    """Return the least number of first aiders for so many persons, athletes and crew included.

    Beyond three thousand the source gives no rate: the same one is used, and a provider asked.
    """
    return max(LEAST_FIRST_AIDERS, ceil(persons * FIRST_AIDERS_A_THOUSAND / 1000))


def rate_holds(persons: int) -> bool:
    """Whether the source gives a rate for so many persons."""
    return persons <= _RATE_HOLDS_TO


def seeking_help(persons: int) -> tuple[int, int]:
    """Return how many of so many persons are likely to seek help, from and to, rounded up."""
    low, high = SEEKING_HELP_PERCENT
    return ceil(persons * low / 100), ceil(persons * high / 100)


def shock_after_s(walk_s: int) -> int:
    """Return the time from collapse to shock [s] if the device is a walk [s] of one way off."""
    return 2 * walk_s + PADS_ON_S
