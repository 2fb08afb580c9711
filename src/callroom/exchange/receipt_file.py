"""A picture of a receipt, as a phone or a scanner makes it: what kind it is, and whether it fits."""

import msgspec

from callroom.model import BadInput, Fact, Finding

MOST_KB = 6 * 1024
"""A phone's photograph of a receipt is two to five megabytes (common practice, no source)."""

# The first bytes of each kind. Sources: ISO/IEC 10918-1 annex B (JPEG), W3C PNG 3rd edition
# section 5.2, RFC 9649 section 2.4 (WebP), ISO 32000-1 section 7.5.2 (PDF).
_STARTS: tuple[tuple[bytes, str, str], ...] = (
    (b"\xff\xd8\xff", "image/jpeg", "jpg"),
    (b"\x89PNG\r\n\x1a\n", "image/png", "png"),
    (b"%PDF-", "application/pdf", "pdf"),
)


class ReceiptFile(msgspec.Struct, frozen=True, kw_only=True):
    """A file that may be kept as a receipt; its name says nothing but its kind."""

    name: str
    media_type: str
    content: bytes


def read_receipt(data: bytes, file: str) -> ReceiptFile:
    """Return what `data` is, known by its first bytes: never by what it is called.

    Raises
    ------
    BadInput
        If it is empty, too large, or neither a picture nor a PDF; `file` is named in it.
    """
    if not data:
        raise _refused("money.receipt_empty", file)
    if len(data) > MOST_KB * 1024:
        raise _refused("money.receipt_large", file, given=len(data) // 1024, most=MOST_KB)
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return ReceiptFile(name="receipt.webp", media_type="image/webp", content=data)
    for start, media_type, ending in _STARTS:
        if data.startswith(start):
            return ReceiptFile(name=f"receipt.{ending}", media_type=media_type, content=data)
    raise _refused("money.receipt_kind", file)


def _refused(rule: str, file: str, **facts: int) -> BadInput:
    said: dict[str, Fact] = {"file": file[:80], **facts}
    return BadInput((Finding(rule=rule, severity="error", subject="receipt", facts=said),))
