"""The order of entries: by the rank the director gave, the rest by lot."""

from collections.abc import Iterable

from callroom.model.team import Team
from callroom.planner.seeding.draw import drawn


def entry_order(teams: Iterable[Team], *, seed: int) -> tuple[str, ...]:
    """Return the ids of one division's teams, best first.

    Teams without an entry rank come last; equal ranks, and those without, are ordered by
    a recorded draw. Source: FINA (now World Aquatics) Swimming Rules 2009-2013, SW 3.1.1:
    entries without a time rank last, equal times are ordered by draw.
    """
    entered = {team.id: team for team in teams}
    lots = drawn(entered, seed=seed, purpose="entry order")
    last = 1 + max((team.entry_rank or 0 for team in entered.values()), default=0)

    def rank(name: str) -> int:
        given = entered[name].entry_rank
        return last if given is None else given

    return tuple(sorted(lots, key=rank))
