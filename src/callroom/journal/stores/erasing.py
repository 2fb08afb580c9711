"""Removing a person so that their bytes are gone, not merely unlisted."""

import sqlite3
from collections.abc import Collection, Sequence

from callroom.journal.store.side import (
    ATTACHMENTS,
    DRAFTS,
    LISTS_SENT,
    NOTES,
    OUTBOX,
    PEOPLE,
    SECRETS,
    TYPED_BY_PEOPLE,
    SideWrite,
)
from callroom.journal.stores.tables import Tables

_OWNED = (NOTES.name, DRAFTS.name, ATTACHMENTS.name, OUTBOX.name)
"""Tables whose ids may begin with ``person/``."""


def belonging_to(tables: Tables, person: str) -> Sequence[SideWrite]:
    """Return the removals of a person and of every row that belongs to them or may name them."""
    found = [
        SideWrite(table, row_id, None)
        for table in _OWNED
        for row_id in tables.side_rows(table, f"{person}/")
    ]
    # A list that waits to be loaded may name them, and would bring them back.
    found += [
        SideWrite(DRAFTS.name, row_id, None) for row_id in tables.side_rows(DRAFTS.name, LISTS_SENT)
    ]
    if tables.side_row(PEOPLE.name, person) is not None:
        found.append(SideWrite(PEOPLE.name, person, None))
    return found


def everything_personal(tables: Tables, keep: Collection[str]) -> Sequence[SideWrite]:
    """Return the removals of all people but those to `keep`, and of what may name anybody.

    Notes, drafts and letters go whole: they may speak of people under no person's id. So does
    what was typed about devices, and join codes not used yet. Of the attachments go those of
    the people removed; what else is attached names a thing.
    """
    people = [person for person in tables.side_rows(PEOPLE.name, "") if person not in keep]
    found = [
        SideWrite(ATTACHMENTS.name, row_id, None)
        for row_id in tables.side_rows(ATTACHMENTS.name, "")
        if row_id.partition("/")[0] in set(people)
    ]
    found += [
        SideWrite(table, row_id, None)
        for table in (NOTES.name, DRAFTS.name, OUTBOX.name)
        for row_id in tables.side_rows(table, "")
    ]
    found += [
        SideWrite(SECRETS.name, row_id, None)
        for prefix in TYPED_BY_PEOPLE
        for row_id in tables.side_rows(SECRETS.name, prefix)
    ]
    return [*found, *(SideWrite(PEOPLE.name, person, None) for person in people)]


def scrub(connection: sqlite3.Connection) -> bool:
    """Write the book anew without what was deleted, and empty its write-ahead log.

    Returns whether that went through; it does not while a reader keeps an older view open.
    Deleted content is overwritten in its page by ``secure_delete``; ``VACUUM`` also drops
    whatever earlier page splits left behind, and the log held the rows as they once were.
    """
    try:
        connection.execute("VACUUM")
        busy = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
    except sqlite3.Error:
        return False
    return int(busy) == 0
