"""What the handlers of the money pages share: names, days, and what there must be."""

import asyncio
from collections.abc import Mapping
from datetime import date
from typing import Any

from litestar.datastructures import UploadFile

from callroom.bootstrap.money_keeping import beside_receipt
from callroom.model import Event, Refusal, from_milliseconds, wall_time
from callroom.model.money import Budget
from callroom.views.account_book import people_in
from callroom.views.money import money_view
from callroom.web.forms.posted import Posted
from callroom.web.house import Asked, House, new_key
from callroom.web.money.deed_forms import MoneyAsKnown

# A photograph of a receipt is larger than anything else a page sends.
MOST_RECEIPT_BODY = 8 * 1024 * 1024


async def people_named(house: House) -> Mapping[str, str]:
    """Return the names of those the money is about, by id; of who was erased there is none."""
    wanted = people_in(house.state)
    if not wanted:
        return {}
    people = await asyncio.to_thread(house.book.people)
    return {person: people[person].name for person in wanted if person in people}


async def suggested_names(house: House) -> Mapping[str, str]:
    """Return the names that may be typed: those of the money, and the crew's."""
    wanted = people_in(house.state) | house.state.crew.keys()
    people = await asyncio.to_thread(house.book.people)
    return {person: people[person].name for person in sorted(wanted) if person in people}


def event_and_budget(house: House) -> tuple[Event, Budget]:
    """Return the event and its budget; refused without one of them."""
    event, budget = house.state.event, house.state.budget
    if event is None:
        raise Refusal("book.no_event")
    if budget is None:
        raise Refusal("money.no_budget")
    return event, budget


def known_in(house: House, budget: Budget) -> Mapping[str, int]:
    """Return what the book thinks is in each place [minor units]."""
    return {} if not budget.places else dict(money_view(house.state).now.places)


def today_at(house: House, event: Event) -> date:
    """Return the day it is at the venue."""
    return wall_time(from_milliseconds(house.book.now_ms()), event.zone).date()


def form_key(form: Posted) -> str:
    """Return the key of a form, a new one if it came without."""
    return form.text("key") or new_key()


def as_known(house: House) -> MoneyAsKnown:
    """Return what a form is read against."""
    event, budget = event_and_budget(house)
    return MoneyAsKnown(event=event, budget=budget, today=today_at(house, event))


async def sent_receipt(request: Asked, key: str) -> tuple[str, tuple[Any, ...]]:
    """Return the id of the receipt that came with a form, and the change that keeps it."""
    file = (await request.form()).get("receipt")
    if not isinstance(file, UploadFile) or not file.filename:
        return "", ()
    receipt, write = beside_receipt(key, await file.read(), file.filename)
    return receipt, (write,)
