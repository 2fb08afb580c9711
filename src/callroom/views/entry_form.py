"""What a form for a team asks: its places by category, and how full each division is."""

from gettext import NullTranslations

import msgspec

from callroom.model import Division, Event, State
from callroom.model.places_left import places_left, teams_in, waiting_in
from callroom.model.steps import place_names
from callroom.views.entry_fees import fee_of
from callroom.views.wording import ENGLISH


class FormPlace(msgspec.Struct, frozen=True, kw_only=True):
    """A place of the line-up, or of a reserve, whose category is chosen (empty)."""

    place: str
    category: str
    category_name: str
    reserve: bool


class DivisionRoom(msgspec.Struct, frozen=True, kw_only=True):
    """A division as somebody sees it who wants to enter.

    `left` is how many places are free (None: no limit), `waiting` how many wait already, `fee`
    what a team pays [minor units].
    """

    id: str
    name: str
    make_up: str
    entered: int
    limit: int
    left: int | None
    waiting: int
    fee: int

    @property
    def joins_list(self) -> bool:
        """Whether the next team goes on the waiting list."""
        return self.left == 0 or self.waiting > 0


def form_places(event: Event, division: Division) -> tuple[FormPlace, ...]:
    """Return the places of a division in the order of its make-up, then those of reserves."""
    names = {one.id: one.name for one in event.categories}
    categories = [part.category for part in division.make_up for _ in range(part.count)]
    on_floor = tuple(
        FormPlace(
            place=place, category=category, category_name=names.get(category, ""), reserve=False
        )
        for place, category in zip(place_names(division), categories, strict=True)
    )
    behind = (chr(ord("A") + len(on_floor) + index) for index in range(division.reserves))
    only = division.make_up[0].category if len(division.make_up) == 1 else ""
    reserves = tuple(
        FormPlace(place=place, category=only, category_name=names.get(only, ""), reserve=True)
        for place in behind
    )
    return (*on_floor, *reserves)


def make_up_text(event: Event, division: Division, words: NullTranslations = ENGLISH) -> str:
    """Return how a team is made up: ``"2 women, 2 men, up to 1 reserve"``."""
    names = {one.id: one.name for one in event.categories}
    parts = [f"{one.count} {names.get(one.category, one.category)}" for one in division.make_up]
    if division.reserves:
        reserves = words.ngettext(
            "up to {count} reserve", "up to {count} reserves", division.reserves
        )
        parts.append(reserves.format(count=division.reserves))
    return ", ".join(parts)


def division_rooms(state: State, words: NullTranslations = ENGLISH) -> tuple[DivisionRoom, ...]:
    """Return every division with how full it is."""
    event = state.event
    if event is None:
        return ()
    return tuple(
        DivisionRoom(
            id=one.id,
            name=one.name,
            make_up=make_up_text(event, one, words),
            entered=len(teams_in(state, one.id)),
            limit=one.team_limit,
            left=places_left(state, one.id),
            waiting=len(waiting_in(state, one.id)),
            fee=fee_of(state, one.id),
        )
        for one in event.divisions
    )
