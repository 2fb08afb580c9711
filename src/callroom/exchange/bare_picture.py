"""A picture without what a phone writes into it: where it was taken, when, and with what.

Nothing is decoded or drawn anew: only the parts of the file that hold the picture itself and
its colours are kept, byte for byte.
"""

from collections.abc import Iterator

# ISO/IEC 10918-1 table B.1: markers that stand alone, and those that end the walk.
_SOI, _EOI, _SOS, _TEM = 0xD8, 0xD9, 0xDA, 0x01
_RESTARTS = range(0xD0, 0xD8)
_APPS = range(0xE0, 0xF0)
_APP_EXIF, _COMMENT = 0xE1, 0xFE
# What a reader needs to show the picture: JFIF (APP0), colour profile (APP2), transform (APP14).
_KEPT_APPS = ((0xE0, b"JFIF\0"), (0xE2, b"ICC_PROFILE\0"), (0xEE, b"Adobe"))

# W3C PNG, 3rd edition, section 4.8 and 11: the chunks that draw.
_PNG_START = b"\x89PNG\r\n\x1a\n"
_PNG_KEPT = frozenset(
    b"IHDR PLTE IDAT IEND tRNS cHRM gAMA iCCP sBIT sRGB cICP bKGD pHYs acTL fcTL fdAT".split()
)

# RFC 9649, section 2.7: the chunks that draw, and the flags for those that do not.
_WEBP_KEPT = frozenset((b"VP8 ", b"VP8L", b"VP8X", b"ALPH", b"ANIM", b"ANMF", b"ICCP"))
_WEBP_XMP, _WEBP_EXIF = 0x04, 0x08

_ORIENTATION = 0x0112
_UPRIGHT = 1


class NotAPicture(ValueError):
    """The file breaks off, or is not built as its kind is."""


def bare_jpeg(data: bytes) -> bytes:
    """Return a JPEG with neither Exif, XMP, IPTC nor comments, nor anything after its end.

    Which way up it was held is kept, as the one line of a new Exif part: else receipts would
    lie on their side. Source: ISO/IEC 10918-1 annex B; Exif 2.3 (CIPA DC-008) section 4.6.

    Raises
    ------
    NotAPicture
        If the parts do not follow one another to the end of the picture.
    """
    kept: list[bytes] = []
    turned = _UPRIGHT
    for marker, part in _jpeg_parts(data):
        if marker == _APP_EXIF and part[4:10] == b"Exif\0\0":
            turned = _orientation(part[10:]) or turned
        elif marker in _APPS:
            if any(marker == app and part[4:].startswith(name) for app, name in _KEPT_APPS):
                kept.append(part)
        elif marker != _COMMENT:
            kept.append(part)
    if turned != _UPRIGHT:
        kept.insert(0, _exif_of(turned))
    return b"".join((b"\xff\xd8", *kept, b"\xff\xd9"))


def bare_png(data: bytes) -> bytes:
    """Return a PNG with nothing but the chunks that draw it.

    Raises
    ------
    NotAPicture
        If its chunks do not follow one another to the last.
    """
    kept, at, name = [_PNG_START], len(_PNG_START), b""
    while name != b"IEND":
        end = at + 12 + int.from_bytes(data[at : at + 4])
        name = data[at + 4 : at + 8]
        if len(name) < 4 or end > len(data):
            raise NotAPicture
        if name in _PNG_KEPT:
            kept.append(data[at:end])
        at = end
    return b"".join(kept)


def bare_webp(data: bytes) -> bytes:
    """Return a WebP with nothing but the chunks that draw it.

    Raises
    ------
    NotAPicture
        If a chunk breaks off, or none draws.
    """
    kept: list[bytes] = []
    at, stop = 12, min(len(data), 8 + int.from_bytes(data[4:8], "little"))
    while at + 8 <= stop:
        name, size = data[at : at + 4], int.from_bytes(data[at + 4 : at + 8], "little")
        content = data[at + 8 : at + 8 + size]
        if len(content) < size:
            raise NotAPicture
        if name == b"VP8X" and content:
            content = bytes([content[0] & ~(_WEBP_XMP | _WEBP_EXIF)]) + content[1:]
        if name in _WEBP_KEPT:
            kept.append(name + size.to_bytes(4, "little") + content + b"\0" * (size % 2))
        at += 8 + size + size % 2
    if not kept:
        raise NotAPicture
    body = b"WEBP" + b"".join(kept)
    return b"RIFF" + len(body).to_bytes(4, "little") + body


def _jpeg_parts(data: bytes) -> Iterator[tuple[int, bytes]]:
    """Yield each part between the start and the end of the picture, with its marker."""
    at = 2
    while True:
        while data[at : at + 2] == b"\xff\xff":  # fill bytes, section B.1.1.2
            at += 1
        if len(data) < at + 2 or data[at] != 0xFF:
            raise NotAPicture
        marker = data[at + 1]
        if marker == _EOI:
            return
        if marker == _TEM or marker in _RESTARTS:
            end = at + 2
        else:
            size = int.from_bytes(data[at + 2 : at + 4])
            end = at + 2 + size
            if size < 2 or end > len(data):
                raise NotAPicture
            if marker == _SOS:
                end = _end_of_scan(data, end)
        yield marker, data[at:end]
        at = end


def _end_of_scan(data: bytes, at: int) -> int:
    """Return where the coded picture after `at` ends: at a marker that is no part of it."""
    while True:
        at = data.find(b"\xff", at)
        if at < 0 or at + 1 >= len(data):
            raise NotAPicture
        after = data[at + 1]
        if after == 0xFF:
            at += 1
        elif after == 0 or after in _RESTARTS:
            at += 2
        else:
            return at


def _orientation(tiff: bytes) -> int | None:
    """Return which way up the picture is, 1 to 8, from the first directory of an Exif part."""
    order = {b"II": "little", b"MM": "big"}.get(tiff[:2])
    if order is None:
        return None
    little = order == "little"

    def number(at: int, size: int) -> int:
        return int.from_bytes(tiff[at : at + size], "little" if little else "big")

    first = number(4, 4)
    for row in range(number(first, 2)):
        at = first + 2 + 12 * row
        if at + 12 > len(tiff):
            return None
        if number(at, 2) == _ORIENTATION:
            value = number(at + 8, 2)
            return value if 1 <= value <= 8 else None
    return None


def _exif_of(turned: int) -> bytes:
    row = (
        _ORIENTATION.to_bytes(2) + (3).to_bytes(2) + (1).to_bytes(4) + turned.to_bytes(2) + b"\0\0"
    )
    tiff = b"MM\0*" + (8).to_bytes(4) + (1).to_bytes(2) + row + (0).to_bytes(4)
    content = b"Exif\0\0" + tiff
    return b"\xff\xe1" + (len(content) + 2).to_bytes(2) + content
