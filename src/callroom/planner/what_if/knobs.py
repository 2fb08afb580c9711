"""One thing changed about a day: the wishes a director might give up, and by how much.

A :class:`Knob` is one kind of change with its levels, the least first. Every level is an
event that differs from the day in that one thing. ``why_not`` looks for the least level that
makes a day possible, ``prices`` for what a level is worth.
"""

from collections.abc import Callable, Iterator
from itertools import zip_longest
from typing import NamedTuple

from msgspec.structs import replace

from callroom.model.event import Event
from callroom.model.wishes import Pause, Wishes

MINUTE = 60
# Hours, rests and pauses change in steps of five minutes: nobody plans a lunch of 27.
LATER_S = 240 * MINUTE
"""A finish is sought up to four hours later; more is another day."""
SHORTEST_PAUSE_S = 20 * MINUTE
"""No pause is offered shorter than this: crew and athletes have to eat (common practice)."""
SHORTEST_CHANGEOVER_S = 60
MOST_LANES = 3
MOST_KIT = 12
STARTS_S = (300, 60, 30, 15)

Apply = Callable[[Event, int], Event]


class Knob(NamedTuple):
    """One kind of change.

    Attributes
    ----------
    kind
        What changes (``"rest_less"``); with `subject` it names the knob.
    levels
        By how much, least first: seconds, a count, or the step along a list of choices.
    apply
        Makes the event of a level.
    subject
        The pause or floor that is meant, where there are several.
    choice
        The wish it picks a value of, where it is no matter of more or less.
    """

    kind: str
    levels: tuple[int, ...]
    apply: Apply
    subject: str = ""
    choice: str = ""


def knobs(event: Event) -> tuple[Knob, ...]:
    """Return every wish of a day that can be loosened, with its levels."""
    return tuple(knob for knob in _all(event) if knob.levels)


def _all(event: Event) -> Iterator[Knob]:
    wishes = event.wishes
    if wishes.finish_by_s is not None and not wishes.days:
        yield Knob("finish_later", _steps(LATER_S), _finish_later)
    if not wishes.days:
        yield Knob("start_earlier", _steps(wishes.first_heat_s), _start_earlier)
    yield from _days(wishes)
    yield Knob("rest_less", _steps(wishes.rest_s), wish(rest_less))
    for pause in wishes.pauses:
        spare_s = pause.length_s - SHORTEST_PAUSE_S
        yield Knob("pause_shorter", _steps(spare_s), _shorten(pause.id), pause.id)
    yield from _judges(event)
    spare_s = wishes.changeover_workout_s - SHORTEST_CHANGEOVER_S
    yield Knob("changeovers_faster", _steps(spare_s, MINUTE), wish(changeovers_faster))
    yield from _choices(wishes)
    finer = tuple(slot_s for slot_s in STARTS_S if slot_s < wishes.slot_s)
    yield Knob("starts", finer, wish(starts_every))
    yield from _lanes(event)
    yield from _particular(wishes)


def _days(wishes: Wishes) -> Iterator[Knob]:
    """Yield longer days, none of them into the next."""
    opens_s = [day.opens_s for day in wishes.days[1:]]
    for day, next_s in zip_longest(wishes.days, opens_s):
        spare_s = LATER_S if next_s is None else min(LATER_S, next_s - day.closes_s)
        yield Knob("day_longer", _steps(spare_s), _longer(day.id), day.id)


def _particular(wishes: Wishes) -> Iterator[Knob]:
    """Yield more of what is shared, and single wishes lifted."""
    for kit in wishes.shared_kit:
        yield Knob("kit_more", tuple(range(1, MOST_KIT + 1)), _more_kit(kit.id), kit.id)
    for field, kind in (
        ("locks", "lock_lifted"),
        ("team_hours", "hours_lifted"),
        ("apart", "apart_lifted"),
    ):
        for place in range(len(getattr(wishes, field))):
            yield Knob(kind, (1,), wish(_without(field, place)), str(place + 1))


def _choices(wishes: Wishes) -> Iterator[Knob]:
    if wishes.order != "kept":
        levels = (2,) if wishes.order == "neighbours" else (1, 2)
        yield Knob("order", levels, wish(looser_order), choice="order")
    for name, loose in (
        ("mixed_heats", True),
        ("workout_order", "free"),
        ("constant_rhythm", False),
        ("finals_last", False),
        ("waves", ()),
    ):
        if getattr(wishes, name) != loose:
            yield Knob(name, (1,), wish(_set(name, loose)), choice=name)


def _set(name: str, value: object) -> Callable[[Wishes, int], Wishes]:
    return lambda wishes, _level: replace(wishes, **{name: value})


def _judges(event: Event) -> Iterator[Knob]:
    """Yield the judges that could still be used: every floor full at once needs no more."""
    limit = event.wishes.judges_at_once
    if limit is None:
        return
    most = sum(len(floor.open_lanes) * judges_per_lane(event, floor.id) for floor in event.floors)
    yield Knob("judges_more", tuple(range(1, most - limit + 1)), wish(more_judges))


def _lanes(event: Event) -> Iterator[Knob]:
    """Yield more lanes, floor by floor; with their judges too where those are limited."""
    levels = tuple(range(1, MOST_LANES + 1))
    for floor in event.floors:
        yield Knob("lanes_more", levels, widen(floor.id), floor.id)
        if event.wishes.judges_at_once is not None:
            apply = widen(floor.id, judged=True)
            yield Knob("lanes_and_judges_more", levels, apply, floor.id)


def judges_per_lane(event: Event, floor: str) -> int:
    """Return the most judges that a lane of a floor ever needs."""
    return max((w.judges_per_lane for w in event.workouts if w.floor == floor), default=0)


def _steps(most_s: int, step_s: int = 5 * MINUTE) -> tuple[int, ...]:
    """Return step after step up to `most_s`, which is the last whatever its size [s]."""
    steps = range(step_s, max(most_s, 0), step_s)
    return (*steps, most_s) if most_s > 0 else ()


def wish(change: Callable[[Wishes, int], Wishes]) -> Apply:
    """Return what changes the wishes of an event."""

    def apply(event: Event, level: int) -> Event:
        return replace(event, wishes=change(event.wishes, level))

    return apply


def _finish_later(event: Event, by_s: int) -> Event:
    wishes = event.wishes
    finish_by_s = None if wishes.finish_by_s is None else wishes.finish_by_s + by_s
    return replace(event, wishes=replace(wishes, finish_by_s=finish_by_s))


def _start_earlier(event: Event, by_s: int) -> Event:
    wishes = event.wishes
    return replace(event, wishes=replace(wishes, first_heat_s=wishes.first_heat_s - by_s))


def rest_less(wishes: Wishes, by_s: int) -> Wishes:
    """Return the wishes with less rest [s]."""
    return replace(wishes, rest_s=wishes.rest_s - by_s)


def more_judges(wishes: Wishes, count: int) -> Wishes:
    """Return the wishes with more judges at once."""
    limit = wishes.judges_at_once
    return wishes if limit is None else replace(wishes, judges_at_once=limit + count)


def changeovers_faster(wishes: Wishes, by_s: int) -> Wishes:
    """Return the wishes with every changeover so much shorter [s], as far as it goes."""

    def faster(length_s: int) -> int:
        return min(length_s, max(SHORTEST_CHANGEOVER_S, length_s - by_s))

    return replace(
        wishes,
        changeover_same_s=faster(wishes.changeover_same_s),
        changeover_division_s=faster(wishes.changeover_division_s),
        changeover_workout_s=faster(wishes.changeover_workout_s),
    )


def starts_every(wishes: Wishes, slot_s: int) -> Wishes:
    """Return the wishes with heats starting on other multiples [s]."""
    return replace(wishes, slot_s=slot_s)


def looser_order(wishes: Wishes, step: int) -> Wishes:
    """Return the wishes with teams moved less between workouts: 1 heat, or (2) not at all."""
    return replace(wishes, order="neighbours" if step == 1 else "kept")


def _longer(day_id: str) -> Apply:
    def change(wishes: Wishes, by_s: int) -> Wishes:
        days = tuple(
            replace(day, closes_s=day.closes_s + by_s) if day.id == day_id else day
            for day in wishes.days
        )
        return replace(wishes, days=days)

    return wish(change)


def _more_kit(kit_id: str) -> Apply:
    def change(wishes: Wishes, more: int) -> Wishes:
        kits = tuple(
            replace(kit, count=kit.count + more) if kit.id == kit_id else kit
            for kit in wishes.shared_kit
        )
        return replace(wishes, shared_kit=kits)

    return wish(change)


def _without(field: str, place: int) -> Callable[[Wishes, int], Wishes]:
    """Return what takes one row out of a field of the wishes."""

    def change(wishes: Wishes, _level: int) -> Wishes:
        rows = getattr(wishes, field)
        return replace(wishes, **{field: (*rows[:place], *rows[place + 1 :])})

    return change


def _shorten(pause_id: str) -> Apply:
    def apply(event: Event, by_s: int) -> Event:
        def shorter(pause: Pause) -> Pause:
            return replace(pause, length_s=pause.length_s - by_s)

        pauses = tuple(shorter(p) if p.id == pause_id else p for p in event.wishes.pauses)
        return replace(event, wishes=replace(event.wishes, pauses=pauses))

    return apply


def widen(floor_id: str, *, judged: bool = False) -> Apply:
    """Return what gives a floor more lanes; with `judged` the judges for them as well."""

    def apply(event: Event, lanes: int) -> Event:
        floors = tuple(
            replace(floor, lanes=floor.lanes + lanes) if floor.id == floor_id else floor
            for floor in event.floors
        )
        more = lanes * judges_per_lane(event, floor_id) if judged else 0
        return replace(event, floors=floors, wishes=more_judges(event.wishes, more))

    return apply


def hold(floor_id: str) -> Apply:
    """Return what keeps the outermost lanes of a floor free for re-runs."""

    def apply(event: Event, lanes: int) -> Event:
        floors = tuple(
            replace(floor, held_lanes=(*floor.held_lanes, *floor.open_lanes[-lanes:]))
            if floor.id == floor_id
            else floor
            for floor in event.floors
        )
        return replace(event, floors=floors)

    return apply
