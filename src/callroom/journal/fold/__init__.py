"""Entries folded into one State.

Decides: what each kind of entry changes, one small function per kind.
Never does: refuse an entry (a report that fits nowhere is kept unplaced), read a clock.
"""

from callroom.journal.fold.builder import Builder
from callroom.journal.fold.folder import Batch, EventFolder, fold_all

__all__ = ["Batch", "Builder", "EventFolder", "fold_all"]
