"""What is asked of a solver that may change the order of the heats to come."""

from collections.abc import Callable, Mapping
from itertools import combinations, pairwise
from typing import NamedTuple

from callroom.planner.repair.cost import heads, weight
from callroom.planner.repair.forward import At
from callroom.planner.repair.to_come import Coming, Rest
from callroom.planner.repair.wishes import Hours, Store, follows, hours, stores
from callroom.planner.timetable import Limits


class Reordering(NamedTuple):
    """The rest of a day whose heats may change places.

    Attributes
    ----------
    kept
        The answer in the order published: a start for the search, and what it has to beat.
    before
        Pairs of heats of which the first is over before the second starts, with what must
        lie between them [s]: heats of a block, workouts of a team, heats already called.
    hours
        When each heat may start, as far as the order published keeps it.
    stores
        What is shared.
    prices
        What a minute of another start costs, by heat; see ``cost``.
    """

    rest: Rest
    kept: Mapping[str, At]
    before: tuple[tuple[str, str, int], ...]
    hours: Mapping[str, Hours]
    stores: tuple[Store, ...]
    prices: Mapping[str, int]

    def overdue(self) -> bool:
        """Whether a heat starts too late in the order published."""
        return any(_is_late(self.kept[name], mine) for name, mine in self.hours.items())

    def patient(self) -> "Reordering":
        """Return the question with heats that are too late anyway no later than they are."""
        later = {
            name: mine._replace(until_s=self.kept[name].start_s)
            for name, mine in self.hours.items()
            if _is_late(self.kept[name], mine)
        }
        return self._replace(hours={**self.hours, **later})


def _is_late(at: At, mine: Hours) -> bool:
    return mine.until_s is not None and at.start_s > mine.until_s


Reorder = Callable[[Reordering, Limits], dict[str, At] | None]


def reordering(rest: Rest, kept: Mapping[str, At]) -> Reordering:
    """Return the question: what must stay in order, and what each change costs."""
    return Reordering(
        rest=rest,
        kept=kept,
        before=(*_blocks(rest), *_teams(rest), *_called(rest), *_wished(rest)),
        hours=_hours(rest),
        stores=stores(rest),
        prices={heat.id: weight(rest, heat) * heads(rest, heat) for heat in rest.heats},
    )


def _blocks(rest: Rest) -> list[tuple[str, str, int]]:
    """Heats of a block run in the order published, so that the leaders come last."""
    rows: dict[tuple[str, str, tuple[str, ...]], list[Coming]] = {}
    for heat in rest.heats:
        rows.setdefault((heat.workout, heat.mix, heat.floors), []).append(heat)
    one_floor = [row for (_, _, floors), row in rows.items() if len(floors) == 1]
    return [
        (one.id, other.id, rest.changeover.same_s)
        for row in one_floor
        for one, other in pairwise(row)
    ]


def _teams(rest: Rest) -> list[tuple[str, str, int]]:
    """A team's workouts stay in the order published, with their rest."""
    pairs: dict[tuple[str, str], int] = {}
    for one, other in combinations(rest.heats, 2):
        if set(rest.competing(one)) & set(rest.competing(other)):
            pairs[one.id, other.id] = rest.rest_s(one.workout, other.workout)
    return [(one, other, gap_s) for (one, other), gap_s in pairs.items()]


def _called(rest: Rest) -> list[tuple[str, str, int]]:
    """Heats that were called go first on their floors, in the order published."""
    found = []
    for one, other in combinations(rest.heats, 2):
        shared = len(one.floors) == 1 and one.floors == other.floors
        if shared and one.id in rest.called:
            found.append((one.id, other.id, rest.changeover_s(one, other)))
        elif shared and other.id in rest.called:
            found.append((other.id, one.id, rest.changeover_s(other, one)))
    return found


def _hours(rest: Rest) -> dict[str, Hours]:
    """When each heat may start, behind what has begun as well."""
    found = dict(hours(rest))
    for one, other, gap_s in follows(rest):
        if one in rest.ends_s:
            mine = found[other]
            found[other] = mine._replace(from_s=max(mine.from_s, rest.ends_s[one] + gap_s))
    return found


def _wished(rest: Rest) -> list[tuple[str, str, int]]:
    """What the event wishes of the order, among the heats to come."""
    coming = {heat.id for heat in rest.heats}
    return [follow for follow in follows(rest) if follow[0] in coming]
