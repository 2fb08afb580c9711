"""The tables of a book, as steps from each layout to the next."""

from collections.abc import Sequence

from callroom.journal.store.side import SIDE_TABLES

APPLICATION_ID = 0x43414C52
"""``CALR`` in ASCII: says of a file that it is a book."""

Step = Sequence[str]
"""Statements that lead from one layout to the next."""

_JOURNAL = """
CREATE TABLE journal (
    seq             INTEGER PRIMARY KEY,
    at_ms           INTEGER NOT NULL,
    actor           TEXT NOT NULL,
    device          TEXT NOT NULL,
    key             TEXT NOT NULL,
    part            INTEGER NOT NULL CHECK (part >= 0),
    kind            TEXT NOT NULL,
    version         INTEGER NOT NULL CHECK (version >= 1),
    data            TEXT NOT NULL,
    seen_at_ms      INTEGER,
    clock_error_ms  INTEGER,
    request         BLOB,   -- SHA-256 of the request, with its first entry
    seal            BLOB,   -- with the last entry of a transaction
    UNIQUE (device, key, part)
) STRICT
"""

_APPEND_ONLY = tuple(
    f"""
    CREATE TRIGGER journal_no_{verb.lower()} BEFORE {verb} ON journal
    BEGIN SELECT RAISE(ABORT, 'the journal is only ever appended to'); END
    """
    for verb in ("UPDATE", "DELETE")
)

_SIDE = tuple(
    f"CREATE TABLE {table} (id TEXT PRIMARY KEY, value BLOB NOT NULL) STRICT, WITHOUT ROWID"
    for table in SIDE_TABLES
)

STEPS: tuple[Step, ...] = ((_JOURNAL, *_APPEND_ONLY, *_SIDE),)
"""Step n leads from layout n to n + 1; a new book takes them all, from layout 0."""
