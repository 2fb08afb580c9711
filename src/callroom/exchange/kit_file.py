"""The file of kit: one row for each kind of piece, CSV or XLSX."""

import re
from typing import get_args, get_type_hints

import msgspec

from callroom.exchange.faults import Faults, shown
from callroom.exchange.quantities import Unreadable, read_load
from callroom.exchange.table import Row, TableColumn, read_table
from callroom.exchange.toml_section import ID_FORM
from callroom.model import Event, Finding, KitItem, Mass

COLUMNS = (
    TableColumn("id", ("kit id",)),
    TableColumn("name", ("item", "what"), needed=True),
    TableColumn("kind", ("type",), needed=True),
    TableColumn("count", ("pieces", "number", "how many"), needed=True),
    TableColumn("mass", ("weight", "load")),
    TableColumn("floor", ("where",)),
    TableColumn("lender", ("borrowed from", "owner", "lent by")),
    TableColumn("category", ("for", "lifted by")),
    TableColumn("due back", ("back by", "return by")),
)
MOST_PIECES = 100_000
_KINDS: tuple[str, ...] = get_args(get_type_hints(KitItem)["kind"])
_NOT_IN_IDS = re.compile(r"[^a-z0-9]+")


class KitRead(msgspec.Struct, frozen=True, kw_only=True):
    """What a file of kit holds, and what is worth knowing."""

    kit: tuple[KitItem, ...]
    findings: tuple[Finding, ...] = ()


def read_kit(data: bytes, event: Event, file: str = "kit.csv") -> KitRead:
    """Return the kit that a file lists.

    Parameters
    ----------
    data
        The bytes of a CSV or XLSX file; ``docs/formats.md`` lists the columns.
    event
        The event it is for, which names the floors.
    file
        Its name, for messages.

    Raises
    ------
    BadInput
        With every fault of the file, each naming its row, its column and the mend.
    """
    faults = Faults(file)
    table = read_table(data, "kit", COLUMNS, faults)
    taken: dict[str, int] = {}
    kit = tuple(_item(row, event, taken) for row in table.rows)
    faults.refuse_if_any()
    return KitRead(kit=kit, findings=faults.findings)


def _item(row: Row, event: Event, taken: dict[str, int]) -> KitItem:
    floors = {one.id: one.name for one in event.floors}
    name = row.text("name", needed=True)
    count = row.whole("count", 0, MOST_PIECES)
    if count is None and not row.text("count"):
        row.fault("table.cell_empty", "count")
    return KitItem(
        id=_id(row, name, taken),
        name=name,
        kind=row.named("kind", {kind: kind for kind in _KINDS}, needed=True),  # type: ignore[arg-type]
        count=count or 0,
        mass=_mass(row),
        floor=row.named("floor", floors),
        lender=row.text("lender"),
        category=row.named("category", {one.id: one.name for one in event.categories}),
        due_back=row.date("due back"),
    )


def _id(row: Row, name: str, taken: dict[str, int]) -> str:
    """Return the id in the row, or one made of the name."""
    given = row.text("id")
    if given and not ID_FORM.fullmatch(given):
        row.fault("table.id_form", "id", given=shown(given))
    plain = given or _NOT_IN_IDS.sub("_", name.casefold()).strip("_")[:30] or "kit"
    item_id, number = plain, 1
    while item_id in taken and not given:
        number += 1
        item_id = f"{plain}_{number}"
    if item_id in taken:
        row.fault("table.id_twice", "id", given=shown(given), other_row=taken[item_id])
    taken[item_id] = row.number
    return item_id


def _mass(row: Row) -> Mass | None:
    text = row.text("mass")
    if not text:
        return None
    try:
        count, kg, lb = read_load(text)
    except Unreadable:
        count, kg, lb = 0, None, None
    if count == 1 and kg is not None and lb is None:
        return Mass(amount=kg, unit="kg")
    if count == 1 and lb is not None and kg is None:
        return Mass(amount=lb, unit="lb")
    row.fault("table.no_mass", "mass", given=shown(text))
    return None
