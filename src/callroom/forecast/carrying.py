"""What a division's results in some workouts suggest for those it has not done yet."""

import math
from collections.abc import Sequence

from callroom.model.forecast import Pace


def carry_over(paces: Sequence[Pace], *, workout: str, part: str) -> Pace | None:
    """Return the pace to expect of a division in a part nobody has done; None without results.

    With n parts measured it is their mean on the scale of logarithms, times n / (n + 1): a
    division may be quick or slow as a whole as much as one workout may be mistaken alone, and
    with both as likely that is the best guess (the mean of a normal distribution with a normal
    prior of the same variance). The interval is as wide as the widest measured one. That both
    are as likely is common practice, no source.
    """
    if not paces:
        return None
    logs = [math.log(one.permille / 1000) for one in paces]
    centre = math.fsum(logs) / (len(logs) + 1)
    below = max(math.log(one.permille / one.low_permille) for one in paces)
    above = max(math.log(one.high_permille / one.permille) for one in paces)
    return Pace(
        workout=workout,
        part=part,
        division=paces[0].division,
        permille=round(1000 * math.exp(centre)),
        low_permille=round(1000 * math.exp(centre - below)),
        high_permille=round(1000 * math.exp(centre + above)),
        teams=0,
        finished=0,
    )
