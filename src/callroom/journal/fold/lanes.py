"""Folding of what judges note in their lanes while it happens."""

from msgspec.structs import replace

from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import KeptNote, LaneNote, sheet_key


def lane_noted(build: Builder, entry: Entry, body: LaneNote) -> None:
    """Keep a note with its lane; one that takes another back marks that one."""
    key = sheet_key(body.workout, body.part, body.team, body.attempt)
    known = build.lane_notes.get(key) or ()
    if body.what == "taken_back":
        known = tuple(
            replace(kept, taken_back=True)
            if (kept.device, kept.note.mark) == (entry.device, body.mark)
            else kept
            for kept in known
        )
    else:
        known = (*known, KeptNote(seq=entry.seq, device=entry.device, note=body))
    build.lane_notes.put(key, known)
