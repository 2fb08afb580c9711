"""Which signs a font can draw, read from tables made by hand and from the shipped fonts."""

import struct
from pathlib import Path

import pytest

import callroom.paper
from callroom.paper.glyphs import coverage, drawable

FONTS = tuple(sorted((Path(callroom.paper.__file__).parent / "fonts").glob("*.ttf")))


def font_with(subtable: bytes) -> bytes:
    """A file with nothing but a character map of one subtable."""
    cmap = struct.pack(">HHHHI", 0, 1, 3, 10, 12) + subtable
    return (
        struct.pack(">IHHHH", 0x10000, 1, 16, 0, 0)
        + struct.pack(">4sIII", b"cmap", 0, 28, len(cmap))
        + cmap
    )


def segment_mapping(*segments: tuple[int, int, int, int], glyphs: tuple[int, ...] = ()) -> bytes:
    """A subtable of format 4 from (first, last, delta, range offset)."""
    count = len(segments)
    starts, ends, deltas, offsets = zip(*segments, strict=True)
    return b"".join(
        (
            struct.pack(">7H", 4, 0, 0, count * 2, 0, 0, 0),
            struct.pack(f">{count}H", *ends),
            bytes(2),
            struct.pack(f">{count}H", *starts),
            struct.pack(f">{count}H", *deltas),
            struct.pack(f">{count}H", *offsets),
            struct.pack(f">{len(glyphs)}H", *glyphs),
        )
    )


def covered_by(tmp_path: Path, subtable: bytes) -> frozenset[int]:
    font = tmp_path / "font.ttf"
    font.write_bytes(font_with(subtable))
    return coverage((font,))


def test_groups_without_their_glyph_nought(tmp_path: Path) -> None:
    """Format 12: the group of A to C begins with glyph 0, which stands for no sign."""
    groups = struct.pack(">III", 65, 67, 0) + struct.pack(">III", 0x1F525, 0x1F525, 9)
    subtable = struct.pack(">HHIII", 12, 0, 16 + len(groups), 0, 2) + groups
    assert covered_by(tmp_path, subtable) == {66, 67, 0x1F525}


def test_segments_by_offset_and_by_list(tmp_path: Path) -> None:
    """Format 4: a to c by offset; x to z by the list, where y has no glyph."""
    subtable = segment_mapping(
        (97, 99, 65536 - 90, 0), (120, 122, 1, 4), (0xFFFF, 0xFFFF, 1, 0), glyphs=(5, 0, 7)
    )
    assert covered_by(tmp_path, subtable) == {97, 98, 99, 120, 122}


def test_the_shipped_fonts_draw_what_the_sheets_say() -> None:
    covered = coverage(FONTS)
    assert len(FONTS) == 4
    assert {ord(sign) for sign in "Aé ß Ł ğ Ω Ж 0 × · – … ’ “ ”"} <= covered
    assert not {ord(sign) for sign in "漢🔥"} & covered


def test_only_what_can_be_drawn_is_left() -> None:
    covered = frozenset(map(ord, "Fire "))
    assert drawable("🔥 Fire\n🔥", covered) == " Fire\n"


def test_a_file_that_is_no_font_is_refused(tmp_path: Path) -> None:
    font = tmp_path / "font.ttf"
    font.write_bytes(struct.pack(">IHHHH", 0x10000, 0, 0, 0, 0))
    with pytest.raises(ValueError, match="no table"):
        coverage((font,))
