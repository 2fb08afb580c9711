"""Books on disk.

Decides: how a book is laid out in SQLite, opened, locked, brought up to date, copied,
dumped, inspected, and where it may not be kept.
Never does: decide whether a request is allowed, or what an entry means.
May import: everything else in ``journal``, and model. Only ``bootstrap`` imports this.
"""

from callroom.journal.stores.dump import load_book
from callroom.journal.stores.inspection import inspected
from callroom.journal.stores.lease import Lease, lease_of
from callroom.journal.stores.opening import create_book, open_book
from callroom.journal.stores.sqlite import SqliteStore

__all__ = [
    "Lease",
    "SqliteStore",
    "create_book",
    "inspected",
    "lease_of",
    "load_book",
    "open_book",
]
