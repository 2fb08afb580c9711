"""Next year's book from this year's: what the day taught, and nobody who did not agree to it."""

from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path

import msgspec
from msgspec.structs import replace

from callroom.actions import ground, money, paces
from callroom.actions.entering import set_entering
from callroom.actions.load import load
from callroom.actions.request import Request
from callroom.bootstrap.books import AT_THE_KEYBOARD, new_book, open_book
from callroom.bootstrap.calibrating import calibration_of
from callroom.journal import PEOPLE
from callroom.model import CrewMember, Event, KitItem, NotFound, State
from callroom.model.entering import Entering
from callroom.views.wording import mass

# The same weekday: a year less a day or two.
_A_YEAR = timedelta(days=364)


class CarriedOver(msgspec.Struct, frozen=True, kw_only=True):
    """What went into next year's book, and what of this year's kit goes back to whom.

    Attributes
    ----------
    event, day
        The name and the day it was given; the day is a guess until the director sets it.
    kit, crew, paces, lines
        How many kit lines, volunteers who agreed, measured paces and lines of the budget.
    left_out
        How many of the crew did not agree to be asked again, and are not in it.
    give_back
        Kit that was borrowed: its lender, what (with its mass), how many.
    """

    event: str
    day: date
    kit: int
    crew: int
    paces: int
    lines: int
    left_out: int
    give_back: tuple[tuple[str, str, int], ...]


def next_years_book(old: Path, new: Path) -> CarriedOver:
    """Make a book for the next event from one that is over.

    Divisions, workouts, movements, rules and timings are as they were; so are the kit that is
    owned, the budget's plan, the floor plan, the side programme, points added to the checklists
    and the paces that the results showed. No team, score or money is taken over, and of the
    crew only who agreed to be asked again.

    Raises
    ------
    NotFound
        If the old book has no event.
    JournalError
        If one of the books cannot be opened or made.
    """
    source = open_book(old, writing=False)
    try:
        state, people = source.state, source.people()
    finally:
        source.close()
    if state.event is None:
        raise NotFound("book.no_event")
    event = _event(state.event)
    agreed = {id_: one for id_, one in people.items() if one.ask_again and id_ in state.crew}
    crew = tuple(_member(state.crew[id_]) for id_ in agreed)
    kit = tuple(item for item in state.kit if not item.lender)
    measured = tuple(one.pace for one in calibration_of(state).measured if one.pace is not None)
    new_book(new)
    book = open_book(new)
    try:
        request = load(State(), event=event, crew=crew, kit=kit)
        beside = tuple(PEOPLE.put(id_, one) for id_, one in agreed.items())
        book.ask_now(AT_THE_KEYBOARD, request, key="carried-over", beside=beside)
        if measured:
            book.ask_now(AT_THE_KEYBOARD, paces.take_paces((), measured), key="paces")
        if state.budget is not None:
            book.ask_now(AT_THE_KEYBOARD, money.set_budget(state.budget), key="budget")
        for number, again in enumerate(_day_again(state)):
            book.ask_now(AT_THE_KEYBOARD, again, key=f"day-{number}")
    finally:
        book.close()
    return CarriedOver(
        event=event.name,
        day=event.day,
        kit=len(kit),
        crew=len(crew),
        paces=len(measured),
        lines=len(state.budget.lines) if state.budget is not None else 0,
        left_out=len(state.crew) - len(crew),
        give_back=_give_back(state.kit),
    )


def _day_again(state: State) -> Iterator[Request]:
    """Ask for how the day was laid out, with nobody in charge yet and nothing ticked.

    What teams are asked and agree to is as it was; when they enter is set anew.
    """
    if state.entering != Entering():
        yield set_entering(replace(state.entering, opens_ms=None, closes_ms=None))
    if state.ground.drawn:
        yield ground.set_ground(state.ground)
    for item in state.side.values():
        yield ground.set_side(replace(item, person=""))
    for check in state.own_checks.values():
        yield ground.add_check(check)


def _event(event: Event) -> Event:
    """Return next year's event: as it was, without what rests on this year's teams."""
    day = event.day + _A_YEAR
    base = event.id.removesuffix(f"-{event.day.year}")
    wishes = replace(event.wishes, locks=(), team_hours=(), apart=())
    return replace(event, id=f"{base}-{day.year}", day=day, address="", wishes=wishes)


def _member(member: CrewMember) -> CrewMember:
    """Return a volunteer without this year's team and hours."""
    return replace(member, team="", family_in=(), free_from_s=None, free_until_s=None)


def _give_back(kit: tuple[KitItem, ...]) -> tuple[tuple[str, str, int], ...]:
    return tuple(sorted((item.lender, _named(item), item.count) for item in kit if item.lender))


def _named(item: KitItem) -> str:
    return item.name if item.mass is None else f"{item.name}, {mass(item.mass)}"
