"""The entry sheet of a division, to print and to mail out."""

import msgspec

from callroom.model import NotFound, State
from callroom.model.entering import Terms
from callroom.views.entry_fees import fee_of
from callroom.views.entry_form import FormPlace, form_places
from callroom.views.page_head import PageHead, page_head


class EntrySheet(msgspec.Struct, frozen=True, kw_only=True):
    """What a team fills in by hand.

    `fee` is what a team pays [minor units]; `ages`: dates of birth are asked; `shirts` are the
    sizes to choose from; `terms` the texts to be signed (None: none); `closes_ms` until when it
    is to be back [ms, UTC] (None: not said).
    """

    head: PageHead
    at_ms: int
    division: str
    places: tuple[FormPlace, ...]
    fee: int
    currency: str
    ages: bool
    shirts: tuple[str, ...]
    adult_age: int
    terms: Terms | None
    closes_ms: int | None


def entry_sheet(state: State, division_id: str) -> EntrySheet:
    """Return the sheet of one division; NotFound without an event or that division."""
    event = state.event
    if event is None:
        raise NotFound("book.no_event")
    division = next((one for one in event.divisions if one.id == division_id), None)
    if division is None:
        raise NotFound("division.unknown", division=division_id[:80])
    terms = state.terms[-1] if state.terms else None
    return EntrySheet(
        head=page_head(state),
        at_ms=state.at_ms,
        division=division.name,
        places=form_places(event, division),
        fee=fee_of(state, division_id),
        currency=event.currency,
        ages=division_id in state.entering.ages_in,
        shirts=state.entering.shirt_sizes,
        adult_age=state.entering.adult_age,
        terms=terms if terms is not None and (terms.consent or terms.waiver) else None,
        closes_ms=state.entering.closes_ms,
    )
