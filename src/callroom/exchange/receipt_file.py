"""A picture of a receipt, as a phone or a scanner makes it: what kind it is, and whether it fits."""

from collections.abc import Callable

import msgspec

from callroom.exchange.bare_picture import NotAPicture, bare_jpeg, bare_png, bare_webp
from callroom.model import BadInput, Fact, Finding

MOST_KB = 6 * 1024
"""A phone's photograph of a receipt is two to five megabytes (common practice, no source)."""

# The first bytes of each kind. Sources: ISO/IEC 10918-1 annex B (JPEG), W3C PNG 3rd edition
# section 5.2, RFC 9649 section 2.4 (WebP), ISO 32000-1 section 7.5.2 (PDF).
_STARTS: tuple[tuple[bytes, str, str, Callable[[bytes], bytes]], ...] = (
    (b"\xff\xd8\xff", "image/jpeg", "jpg", bare_jpeg),
    (b"\x89PNG\r\n\x1a\n", "image/png", "png", bare_png),
    (b"RIFF", "image/webp", "webp", bare_webp),
    (b"%PDF-", "application/pdf", "pdf", bytes),
)


class ReceiptFile(msgspec.Struct, frozen=True, kw_only=True):
    """A file that may be kept as a receipt; its name says nothing but its kind."""

    name: str
    media_type: str
    content: bytes


def read_receipt(data: bytes, file: str) -> ReceiptFile:
    """Return what `data` is, known by its first bytes: never by what it is called.

    A picture is kept without what the phone wrote into it, above all where it was taken. A
    PDF is kept as it is.

    Raises
    ------
    BadInput
        If it is empty, too large, broken off, or neither a picture nor a PDF; `file` is named
        in it.
    """
    if not data:
        raise _refused("money.receipt_empty", file)
    if len(data) > MOST_KB * 1024:
        raise _refused("money.receipt_large", file, given=len(data) // 1024, most=MOST_KB)
    for start, media_type, ending, bare in _STARTS:
        if not data.startswith(start) or (ending == "webp" and data[8:12] != b"WEBP"):
            continue
        try:
            content = bare(data)
        except NotAPicture:
            raise _refused("money.receipt_broken", file) from None
        return ReceiptFile(name=f"receipt.{ending}", media_type=media_type, content=content)
    raise _refused("money.receipt_kind", file)


def _refused(rule: str, file: str, **facts: int) -> BadInput:
    said: dict[str, Fact] = {"file": file[:80], **facts}
    return BadInput((Finding(rule=rule, severity="error", subject="receipt", facts=said),))
