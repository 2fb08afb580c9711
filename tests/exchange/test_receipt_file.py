"""A receipt is known by its first bytes, and bounded in size."""

import pytest

from callroom.exchange.receipt_file import MOST_KB, read_receipt
from callroom.model import BadInput
from tests.exchange.pictures import JPEG, PNG, WEBP


@pytest.mark.parametrize(
    ("data", "media_type"),
    [
        (JPEG, "image/jpeg"),
        (PNG, "image/png"),
        (WEBP, "image/webp"),
        (b"%PDF-1.7\nrest", "application/pdf"),
    ],
)
def test_pictures_and_documents_are_known_by_their_content(data: bytes, media_type: str) -> None:
    read = read_receipt(data, "anything.exe")
    assert read.content == data
    assert read.media_type == media_type
    assert read.name.startswith("receipt.")


@pytest.mark.parametrize(
    ("data", "rule"),
    [
        (b"", "money.receipt_empty"),
        (b"MZ\x90", "money.receipt_kind"),
        (b"RIFF\x24\x00\x00\x00WAVE", "money.receipt_kind"),
        (b"<svg onload=alert(1)>", "money.receipt_kind"),
        (JPEG[:-40], "money.receipt_broken"),
        (b"\xff\xd8\xff" + bytes(MOST_KB * 1024), "money.receipt_large"),
    ],
)
def test_anything_else_is_refused(data: bytes, rule: str) -> None:
    with pytest.raises(BadInput) as refused:
        read_receipt(data, "a.jpg")
    assert refused.value.findings[0].rule == rule
