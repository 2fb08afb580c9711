"""The record of one event: entries appended, folded into one state.

Decides: what an entry is, how it is written and read, in which order requests are decided,
when something counts as stored, and whether a book still is what it was.
Never does: decide who may do what, score, plan, or speak to a person; the sentence for a
refusal is made at the face.
May import: model, and inside: ``stores`` > ``verify``, ``store``, ``codec``, ``fold`` >
``entries``. Only ``bootstrap`` imports ``journal.stores``.
"""

from callroom.journal.codec import BadData, Codec, NewerVersion, Undecodable, UnknownKind
from callroom.journal.entries import Draft, Entry, Kind, Upgrader
from callroom.journal.store import (
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
    Builder,
    Erasure,
    Folder,
    JournalError,
    Reading,
    Receipt,
    Request,
    Seal,
    SideWrite,
    Store,
)
from callroom.journal.verify import verify

__all__ = [
    "ATTACHMENTS",
    "BACKUPS",
    "DRAFTS",
    "LISTS_SENT",
    "META",
    "NOTES",
    "OUTBOX",
    "PEOPLE",
    "SECRETS",
    "Attachment",
    "BackupMade",
    "BadData",
    "Builder",
    "Codec",
    "Draft",
    "Entry",
    "Erasure",
    "Folder",
    "JournalError",
    "Kind",
    "NewerVersion",
    "Reading",
    "Receipt",
    "Request",
    "Seal",
    "SideWrite",
    "Store",
    "Undecodable",
    "UnknownKind",
    "Upgrader",
    "verify",
]
