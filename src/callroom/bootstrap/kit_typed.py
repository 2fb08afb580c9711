"""One kind of kit as somebody typed it, read as a row of a file of kit is, with the same checks."""

import csv
import io
from collections.abc import Collection, Mapping

from msgspec.structs import replace

from callroom.exchange import read_kit
from callroom.model import BadInput, Event, Finding, KitItem

FIELDS = ("name", "kind", "count", "mass", "floor", "lender", "category", "due back")
"""What is asked of a kind of piece, as the columns of a file of kit are called."""

_PLACE = frozenset({"file", "row", "column"})


def read_kit_item(
    typed: Mapping[str, str], item_id: str, taken: Collection[str], event: Event
) -> KitItem:
    """Return the item that was typed, under `item_id` if that is `taken`, else under a new id.

    Raises
    ------
    BadInput
        With everything that cannot be read; the findings name no row, since there is only one.
    """
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(FIELDS)
    writer.writerow([typed.get(name, "") for name in FIELDS])
    try:
        (item,) = read_kit(text.getvalue().encode(), event).kit
    except BadInput as fault:
        raise BadInput(tuple(_without_place(one) for one in fault.findings)) from fault
    if item_id in taken:
        return replace(item, id=item_id)
    number, free = 1, item.id
    while free in taken:
        number += 1
        free = f"{item.id}_{number}"
    return replace(item, id=free)


def _without_place(finding: Finding) -> Finding:
    facts = {name: fact for name, fact in finding.facts.items() if name not in _PLACE}
    return replace(finding, facts=facts, source="")
