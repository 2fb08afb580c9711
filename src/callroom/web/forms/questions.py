"""Questions about a card that was typed, and a yes to them."""

import hashlib
from collections.abc import Sequence

import msgspec

from callroom.model import Finding
from callroom.web.forms.read_entry import PartResult


class Questions(msgspec.Struct, frozen=True, kw_only=True):
    """What is asked about a card that was typed; `mark` sent back with it means yes."""

    found: tuple[Finding, ...]
    mark: str


def asked_mark(results: Sequence[PartResult], found: Sequence[Finding]) -> str:
    """Return a mark of these questions about these results: a yes to them is to no others."""
    said = msgspec.json.encode([results, [finding.rule for finding in found]])
    return hashlib.sha256(said).hexdigest()[:16]
