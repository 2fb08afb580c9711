"""The checks of the wishes about the day."""

from collections.abc import Iterator

from callroom.model.checking.catalogue import RULES
from callroom.model.checking.wish_rows import check_wish_rows
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.wishes import Pause

DAY_S = 24 * 3600
AFTERWARDS_S = 6 * 3600
"""How long after the last heat something may still be pinned: awards, a meal, clearing up."""

LEAST = {
    "first_heat_s": 0,
    "rest_s": 0,
    "changeover_same_s": 0,
    "changeover_division_s": 0,
    "changeover_workout_s": 0,
    "slot_s": 1,
    "least_per_heat": 1,
    "judges_at_once": 1,
    "warm_up_s": 0,
    "warm_up_heats": 0,
    "briefing_s": 0,
}


def check_wishes(event: Event) -> Iterator[Finding]:
    """Give every fault of the wishes of `event`."""
    wishes = event.wishes
    for field, least in LEAST.items():
        number = getattr(wishes, field)
        if number is not None and number < least:
            yield RULES.found(
                "wishes.number_too_small",
                f"wishes.{field}",
                field=field,
                number=number,
                least=least,
            )
    if wishes.finish_by_s is not None and wishes.finish_by_s <= wishes.first_heat_s:
        yield RULES.found(
            "wishes.finish_before_first_heat",
            "wishes.finish_by_s",
            first_heat_s=wishes.first_heat_s,
            finish_by_s=wishes.finish_by_s,
        )
    for pause in wishes.pauses:
        yield from _pause(event, pause)
    yield from check_wish_rows(event)


def _pause(event: Event, pause: Pause) -> Iterator[Finding]:
    at = f"wishes.pauses.{pause.id}"
    if pause.length_s < 1:
        yield RULES.found(
            "wishes.pause_without_length",
            f"{at}.length_s",
            pause=pause.id,
            length_s=pause.length_s,
        )
    ends_s = [day.closes_s for day in event.wishes.days] or [event.wishes.finish_by_s or 0]
    until_s = max(DAY_S, *(end_s + AFTERWARDS_S for end_s in ends_s))
    if not 0 <= pause.start_s <= until_s - pause.length_s:
        yield RULES.found(
            "wishes.pause_outside_day",
            f"{at}.start_s",
            pause=pause.id,
            start_s=pause.start_s,
            until_s=until_s,
        )
    known = {floor.id for floor in event.floors}
    for floor in pause.floors:
        if floor not in known:
            yield RULES.found(
                "wishes.pause_floor_unknown", f"{at}.floors", pause=pause.id, floor=floor
            )
