"""How requests become stored entries, whatever database keeps them.

Decides: the order of requests, when something counts as stored, what a repeated key means,
and what a store must offer.
Never does: SQL, files, or deciding whether a request is allowed; that is the request's own
`decide`.
May import: ``codec``, ``entries`` and model.
"""

from callroom.journal.store.errors import (
    AskedReadOnly,
    BadRequest,
    BookInUse,
    BookIsReadOnly,
    BookMissing,
    Damaged,
    FileInTheWay,
    JournalError,
    KeyConflict,
    NewerBook,
    NotABook,
    NotStored,
    NotWritten,
    OlderBook,
    StoreClosed,
    Unfoldable,
    UnsafeFolder,
)
from callroom.journal.store.port import Builder, Folder, Inspected, Ledger, OnPublished, Store
from callroom.journal.store.replay import Head, Reading, Replayed, replay
from callroom.journal.store.request import Receipt, Request
from callroom.journal.store.seal import GENESIS, Row, Seal, seal_over
from callroom.journal.store.side import (
    ATTACHMENTS,
    BACKUPS,
    DRAFTS,
    LISTS_SENT,
    META,
    NOTES,
    OUTBOX,
    PEOPLE,
    SECRETS,
    Attachment,
    BackupMade,
    Erasure,
    Side,
    SideTable,
    SideWrite,
)
from callroom.journal.store.writer import MAX_BATCH, Writer

__all__ = [
    "ATTACHMENTS",
    "BACKUPS",
    "DRAFTS",
    "GENESIS",
    "LISTS_SENT",
    "MAX_BATCH",
    "META",
    "NOTES",
    "OUTBOX",
    "PEOPLE",
    "SECRETS",
    "AskedReadOnly",
    "Attachment",
    "BackupMade",
    "BadRequest",
    "BookInUse",
    "BookIsReadOnly",
    "BookMissing",
    "Builder",
    "Damaged",
    "Erasure",
    "FileInTheWay",
    "Folder",
    "Head",
    "Inspected",
    "JournalError",
    "KeyConflict",
    "Ledger",
    "NewerBook",
    "NotABook",
    "NotStored",
    "NotWritten",
    "OlderBook",
    "OnPublished",
    "Reading",
    "Receipt",
    "Replayed",
    "Request",
    "Row",
    "Seal",
    "Side",
    "SideTable",
    "SideWrite",
    "Store",
    "StoreClosed",
    "Unfoldable",
    "UnsafeFolder",
    "Writer",
    "replay",
    "seal_over",
]
