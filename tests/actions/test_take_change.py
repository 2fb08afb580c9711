"""A change that was offered is made to the event as it was offered, or refused."""

import pytest
from msgspec.structs import replace

from callroom.actions.take_change import Change, take_changes, take_event
from callroom.journal.entries import bodies
from callroom.model import Event, Refusal, Stale, State
from tests.actions.day_building import DIRECTOR, EVENT, loaded_day


def event_after(*changes: Change) -> Event:
    day = loaded_day()
    request = take_changes(day.state, changes, day.state.subjects["event"])
    day.ask(DIRECTOR, request)
    assert day.state.event is not None
    return day.state.event


def test_offered_changes_are_made_together() -> None:
    rest = Change(kind="rest_less", subject="", level=300)
    mixed = Change(kind="mixed_heats", subject="", level=1)
    after = event_after(rest, mixed)
    assert (after.wishes.rest_s, after.wishes.mixed_heats) == (300, True)
    assert replace(after, wishes=EVENT.wishes) == EVENT


def test_what_only_the_price_list_offers_can_be_taken() -> None:
    after = event_after(Change(kind="rest_more", subject="", level=600))
    assert after.wishes.rest_s == EVENT.wishes.rest_s + 600


@pytest.mark.parametrize(
    "change",
    [
        Change(kind="rest_less", subject="", level=7),
        Change(kind="free_beer", subject="", level=1),
        Change(kind="lanes_more", subject="moon", level=1),
    ],
)
def test_what_is_not_offered_is_refused(change: Change) -> None:
    with pytest.raises(Refusal):
        event_after(change)


def test_an_event_that_has_changed_meanwhile_is_not_overwritten() -> None:
    day = loaded_day()
    seen = day.state.subjects["event"]
    day.tell(DIRECTOR, bodies.EventSet(event=replace(EVENT, venue="Elsewhere")))
    with pytest.raises(Stale):
        day.ask(DIRECTOR, take_event(EVENT, seen))
    with pytest.raises(Refusal):
        take_changes(State(), (), 0)
