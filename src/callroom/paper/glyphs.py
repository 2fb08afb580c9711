"""Which characters the shipped font can draw.

A tagged PDF must not hold a sign without a glyph, and Typst refuses to write one: names are
brought to what can be drawn before they reach a sheet. The coverage is read from the font's
own character map (OpenType specification, table ``cmap``, formats 4 and 12).
"""

import struct
from functools import cache
from pathlib import Path


def drawable(text: str, covered: frozenset[int]) -> str:
    """Return `text` without the signs that have no glyph; line breaks stay."""
    return "".join(sign for sign in text if sign == "\n" or ord(sign) in covered)


@cache
def coverage(fonts: tuple[Path, ...]) -> frozenset[int]:
    """Return the code points that every one of `fonts` (TrueType files) can draw."""
    return frozenset.intersection(*(_covered_by(font.read_bytes()) for font in fonts))


def _covered_by(font: bytes) -> frozenset[int]:
    cmap = _table(font, b"cmap")
    (count,) = struct.unpack_from(">H", cmap, 2)
    offsets = {struct.unpack_from(">HHI", cmap, 4 + 8 * index)[2] for index in range(count)}
    covered: set[int] = set()
    for offset in offsets:
        (form,) = struct.unpack_from(">H", cmap, offset)
        if form == 12:
            covered |= _segmented_coverage(cmap, offset)
        elif form == 4:
            covered |= _segment_mapping(cmap, offset)
    return frozenset(covered)


def _table(font: bytes, tag: bytes) -> bytes:
    (count,) = struct.unpack_from(">H", font, 4)
    for index in range(count):
        found, _, start, length = struct.unpack_from(">4sIII", font, 12 + 16 * index)
        if found == tag:
            return font[start : start + length]
    raise ValueError(f"the font has no table {tag!r}")


def _segmented_coverage(cmap: bytes, offset: int) -> set[int]:
    """Format 12: groups of (first, last, glyph of the first)."""
    (groups,) = struct.unpack_from(">I", cmap, offset + 12)
    covered: set[int] = set()
    for index in range(groups):
        first, last, glyph = struct.unpack_from(">III", cmap, offset + 16 + 12 * index)
        covered.update(point for point in range(first, last + 1) if glyph + point - first)
    return covered


def _segment_mapping(cmap: bytes, offset: int) -> set[int]:
    """Format 4: segments whose glyph comes by an offset, or out of a list behind the segments."""
    (doubled,) = struct.unpack_from(">H", cmap, offset + 6)
    segments = doubled // 2
    columns = [offset + 14, *(offset + 16 + doubled * column for column in (1, 2, 3))]
    ends, starts, deltas, ranges = (
        struct.unpack_from(f">{segments}H", cmap, column) for column in columns
    )
    covered: set[int] = set()
    for index in range(segments):
        for point in range(starts[index], ends[index] + 1):
            glyph = point
            if ranges[index]:
                at = columns[3] + 2 * index + ranges[index] + 2 * (point - starts[index])
                (glyph,) = struct.unpack_from(">H", cmap, at)
                if not glyph:
                    continue
            if (glyph + deltas[index]) % 65536:
                covered.add(point)
    return covered - {0xFFFF}
