"""The changeover sheet: what comes off and goes on in each lane, how long it takes, with whom."""

from collections.abc import Iterator, Mapping

import msgspec

from callroom.model.finding import Fact, Finding
from callroom.model.mass import Mass
from callroom.model.plan import Heat, Plan
from callroom.planner.plates.pose import BarDay
from callroom.planner.plates.problem import Loaded, Loadings
from callroom.planner.plates.rules import RULES


class ChangeTimes(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How long it takes two people, one at each end of a bar [s]. Common practice, no source.

    `plate_s` is one plate off or on, `collars_s` both collars off and on again, `bar_s`
    another bar.
    """

    plate_s: int = 5
    collars_s: int = 10
    bar_s: int = 20


class Change(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What is done to one bar before a heat, or before a further load in it.

    `off` and `on` are of one sleeve, in the order they are done: the outer plate comes off
    first, the inner one goes on first. `takes_s` is the time it takes two people [s].
    """

    lane: int
    station: str
    bar_before: Mass | None
    bar: Mass | None
    off: tuple[Mass, ...]
    on: tuple[Mass, ...]
    moves: int
    takes_s: int


class Changeover(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """All changes before one heat (rung 1) or one further load of it.

    Attributes
    ----------
    given_s
        From the last heat leaving the floor to this one walking on [s]; None: nothing came
        before, or the athletes change their own plates within the heat.
    takes_s
        What it takes the people there are [s].
    least_people
        The fewest people who are done in time, two at each bar; None: no number is.
    """

    floor: str
    heat: str
    rung: int
    changes: tuple[Change, ...]
    given_s: int | None
    takes_s: int
    least_people: int | None


def changeovers(
    day: BarDay,
    loadings: Loadings,
    plan: Plan,
    *,
    people: int = 4,
    times: ChangeTimes | None = None,
) -> tuple[Changeover, ...]:
    """Return the changeover sheets of a floor, in order; what needs no change is left out.

    `people` is how many can change plates at once; they work in twos.
    """
    times = times or ChangeTimes()
    at = loadings.at()
    given = _gaps(plan, day.floor)
    found = []
    before: dict[str, Loaded] = {}
    for step, moment in enumerate(day.moments):
        changes = []
        for place, spot in zip(day.problem.places, day.spots, strict=True):
            now = at[place, step]
            change = _change(spot.lane, spot.station, before.get(place), now, times)
            before[place] = now
            if change.moves:
                changes.append(change)
        if changes:
            given_s = given[moment.heat] if moment.rung == 1 else None
            lengths = [change.takes_s for change in changes]
            found.append(
                Changeover(
                    floor=day.floor,
                    heat=moment.heat,
                    rung=moment.rung,
                    changes=tuple(changes),
                    given_s=given_s,
                    takes_s=shared_s(lengths, max(people // 2, 1)),
                    least_people=_least_people(lengths, given_s),
                )
            )
    return tuple(found)


def hurried(sheets: tuple[Changeover, ...], *, people: int = 4) -> Iterator[Finding]:
    """Yield the changeovers that do not fit into their time."""
    for sheet in sheets:
        if sheet.given_s is None or sheet.takes_s <= sheet.given_s:
            continue
        at = f"heat.{sheet.heat}"
        facts: dict[str, Fact] = {
            "heat": sheet.heat,
            "takes_s": sheet.takes_s,
            "given_s": sheet.given_s,
        }
        if sheet.least_people is None:
            longest_s = max(change.takes_s for change in sheet.changes)
            yield RULES.found("plates.changeover_too_long", at, **facts, longest_s=longest_s)
        else:
            yield RULES.found(
                "plates.changeover_needs_people",
                at,
                **facts,
                people=people,
                needed=sheet.least_people,
            )


def shared_s(lengths: list[int], pairs: int) -> int:
    """Return when so many pairs of people are done, the longest bars taken first [s]."""
    busy = [0] * pairs
    for length_s in sorted(lengths, reverse=True):
        busy[busy.index(min(busy))] += length_s
    return max(busy)


def _least_people(lengths: list[int], given_s: int | None) -> int | None:
    for pairs in range(1, len(lengths) + 1):
        if given_s is None or shared_s(lengths, pairs) <= given_s:
            return 2 * pairs
    return None


def _gaps(plan: Plan, floor: str) -> Mapping[str, int | None]:
    """Return how long the floor is empty before each of its heats; None before the first [s]."""
    gaps: dict[str, int | None] = {}
    last: Heat | None = None
    for heat in sorted(plan.heats, key=lambda heat: (heat.start_s, heat.id)):
        if heat.floor == floor:
            gaps[heat.id] = None if last is None else heat.start_s - last.end_s
            last = heat
    return gaps


def _change(
    lane: int, station: str, before: Loaded | None, now: Loaded, times: ChangeTimes
) -> Change:
    bar_before = None if before is None else before.bar
    stack = () if before is None else before.sleeve
    stay = 0
    if bar_before == now.bar:
        while stay < min(len(stack), len(now.sleeve)) and stack[stay] == now.sleeve[stay]:
            stay += 1
    off, on = tuple(reversed(stack[stay:])), now.sleeve[stay:]
    bars = 0 if bar_before == now.bar else (bar_before is not None) + (now.bar is not None)
    moves = 2 * (len(off) + len(on)) + 2 * bars
    takes_s = times.plate_s * (len(off) + len(on)) + times.bar_s * (bars > 0)
    return Change(
        lane=lane,
        station=station,
        bar_before=bar_before,
        bar=now.bar,
        off=off,
        on=on,
        moves=moves,
        takes_s=takes_s + (times.collars_s if moves else 0),
    )
