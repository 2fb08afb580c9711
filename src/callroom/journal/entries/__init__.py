"""What is written down: the envelope of an entry and the kinds there are.

Decides: the fields around every entry, and which kinds and versions exist.
Never does: any I/O, encoding or folding.
May import: model and the standard library.
"""

from callroom.journal.entries.envelope import Draft, Entry
from callroom.journal.entries.registry import Kind, Upgrader

__all__ = ["Draft", "Entry", "Kind", "Upgrader"]
