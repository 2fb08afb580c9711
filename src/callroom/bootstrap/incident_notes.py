"""What was written about incidents: among the book's notes, where it can be erased."""

from collections.abc import Mapping
from typing import Protocol

from callroom.journal import NOTES, SideWrite
from callroom.model.person import Note

_INCIDENT = "incident/"


class HasNotes(Protocol):
    """A book that hands out its notes."""

    def notes(self, prefix: str, /) -> Mapping[str, Note]:
        """Return the notes whose name begins so, by name."""


def beside_step(key: str, text: str, author: str, at_ms: int) -> tuple[str, tuple[SideWrite, ...]]:
    """Return the record of a step and what is kept of it; nothing for an empty text.

    The record rests on `key`, the form's own, so that a form sent twice keeps one.
    """
    if not text.strip():
        return "", ()
    record = f"{_INCIDENT}{key}"
    return record, (NOTES.put(record, Note(text=text.strip(), author=author, at_ms=at_ms)),)


def incident_notes(book: HasNotes) -> Mapping[str, Note]:
    """Return all notes about incidents, by their record; reads from disk."""
    return book.notes(_INCIDENT)
