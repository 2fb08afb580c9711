"""A form as it was posted: texts by name, nothing trusted."""

from collections.abc import Mapping

import msgspec

LONGEST_TEXT = 2_000


class Posted(msgspec.Struct, frozen=True):
    """The texts of a posted form; a name that was not sent reads as empty."""

    texts: Mapping[str, str]

    def text(self, name: str) -> str:
        """Return a field without blanks around it, cut to what a person would type."""
        return self.texts.get(name, "").strip()[:LONGEST_TEXT]

    def whole(self, name: str) -> int | None:
        """Return a field as a whole number, or None if it is none."""
        text = self.text(name)
        return int(text) if text.isascii() and text.isdigit() and len(text) < 16 else None

    def ticked(self, name: str) -> bool:
        """Whether a box was ticked."""
        return name in self.texts
