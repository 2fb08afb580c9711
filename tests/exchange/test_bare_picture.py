"""A picture is kept without where it was taken, and is the same picture."""

import zlib
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from callroom.exchange.bare_picture import NotAPicture, bare_jpeg, bare_png, bare_webp
from tests.exchange.pictures import JPEG, PNG, PROGRESSIVE_JPEG, WEBP

SECRET = b"52.3702N 4.8952E"
Bare = Callable[[bytes], bytes]
KINDS = [(JPEG, bare_jpeg), (PROGRESSIVE_JPEG, bare_jpeg), (PNG, bare_png), (WEBP, bare_webp)]


def _exif(turned: int, order: str) -> bytes:
    """Return a TIFF directory with an orientation among other lines, and the place after it."""

    def number(value: int, size: int) -> bytes:
        return value.to_bytes(size, "little" if order == "II" else "big")

    make = number(0x010F, 2) + number(2, 2) + number(4, 4) + b"abc\0"
    held = number(0x0112, 2) + number(3, 2) + number(1, 4) + number(turned, 2) + b"\0\0"
    lines = number(2, 2) + make + held + number(0, 4)
    return order.encode() + number(42, 2) + number(8, 4) + lines + SECRET


def _segment(marker: int, content: bytes) -> bytes:
    return bytes((0xFF, marker)) + (len(content) + 2).to_bytes(2) + content


def _chunk(name: bytes, content: bytes) -> bytes:
    check = zlib.crc32(name + content)
    return len(content).to_bytes(4) + name + content + check.to_bytes(4)


def _riff(*chunks: tuple[bytes, bytes]) -> bytes:
    body = b"WEBP"
    for name, content in chunks:
        body += name + len(content).to_bytes(4, "little") + content + b"\0" * (len(content) % 2)
    return b"RIFF" + len(body).to_bytes(4, "little") + body


@pytest.mark.parametrize(("picture", "bare"), KINDS)
def test_a_picture_without_anything_else_stays_byte_for_byte(picture: bytes, bare: Bare) -> None:
    assert bare(picture) == picture


@pytest.mark.parametrize("picture", [JPEG, PROGRESSIVE_JPEG])
@pytest.mark.parametrize(
    "written",
    [
        _segment(0xE1, b"Exif\0\0" + _exif(1, "MM")),
        _segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0" + SECRET),
        _segment(0xED, b"Photoshop 3.0\0" + SECRET),
        _segment(0xE2, b"MPF\0" + SECRET),
        _segment(0xFE, SECRET),
        b"\xff\xff" + _segment(0xFE, SECRET),
    ],
)
def test_what_a_phone_wrote_into_a_jpeg_is_gone(picture: bytes, written: bytes) -> None:
    assert bare_jpeg(picture[:2] + written + picture[2:] + SECRET) == picture


def test_the_colours_of_a_jpeg_stay() -> None:
    colours = _segment(0xE2, b"ICC_PROFILE\0\1\1" + bytes(20))
    picture = JPEG[:2] + colours + JPEG[2:]
    assert bare_jpeg(picture) == picture


@pytest.mark.parametrize("order", ["II", "MM"])
@pytest.mark.parametrize("turned", [3, 6, 8])
def test_a_receipt_stays_the_right_way_up(order: str, turned: int) -> None:
    made = bare_jpeg(JPEG[:2] + _segment(0xE1, b"Exif\0\0" + _exif(turned, order)) + JPEG[2:])
    assert SECRET not in made
    assert made.endswith(JPEG[2:])
    assert made[2 : len(made) - len(JPEG[2:])] == _segment(
        0xE1,
        b"Exif\0\0MM\0*\0\0\0\x08\0\1\x01\x12\0\3\0\0\0\1" + turned.to_bytes(2) + bytes(6),
    )
    assert bare_jpeg(made) == made


def test_what_was_written_into_a_png_is_gone() -> None:
    after_head = 8 + 12 + 13
    written = b"".join(
        _chunk(name, SECRET) for name in (b"eXIf", b"tEXt", b"iTXt", b"zTXt", b"tIME", b"prVt")
    )
    assert bare_png(PNG[:after_head] + written + PNG[after_head:] + SECRET) == PNG


def test_what_was_written_into_a_webp_is_gone_and_not_announced() -> None:
    lossy = WEBP[20:]
    size = bytes((15, 0, 0, 7, 0, 0))
    announced = bytes((0x0C | 0x10, 0, 0, 0)) + size
    quiet = bytes((0x10, 0, 0, 0)) + size
    written = _riff((b"VP8X", announced), (b"VP8 ", lossy), (b"EXIF", SECRET), (b"XMP ", SECRET))
    assert bare_webp(written + SECRET) == _riff((b"VP8X", quiet), (b"VP8 ", lossy))


@pytest.mark.parametrize(("picture", "bare"), KINDS)
def test_a_picture_that_breaks_off_is_refused(picture: bytes, bare: Bare) -> None:
    for end in range(12, len(picture) - 2):
        with pytest.raises(NotAPicture):
            bare(picture[:end])


@given(st.binary(max_size=200))
def test_bytes_of_any_kind_are_read_or_refused(rest: bytes) -> None:
    for start, bare in (
        (b"\xff\xd8\xff\xe1", bare_jpeg),
        (JPEG[:2] + b"\xff\xe1\0\x40Exif\0\0II*\0", bare_jpeg),
        (PNG[:8], bare_png),
        (WEBP[:12], bare_webp),
    ):
        try:
            made = bare(start + rest)
        except NotAPicture:
            continue
        assert bare(made) == made
