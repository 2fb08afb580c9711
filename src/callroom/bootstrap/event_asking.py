"""The event as pages ask for it: in the values of its file, read with the checks of the file."""

import tomllib
from decimal import Decimal
from typing import Any

from callroom.exchange import FaultyEvent, read_event_values, write_event
from callroom.exchange.starter import KINDS, Answers, first_event, slug
from callroom.model import Event

__all__ = [
    "KINDS",
    "Answers",
    "FaultyEvent",
    "event_values",
    "first_event",
    "read_event_values",
    "slug",
]


def event_values(event: Event) -> dict[str, Any]:
    """Return an event as the tables of its file; `read_event_values` reads them back."""
    return tomllib.loads(write_event(event), parse_float=Decimal)
