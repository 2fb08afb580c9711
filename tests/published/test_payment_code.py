"""The code for a transfer in euro, held against the published guidelines and their sample.

European Payments Council, EPC069-12, "Quick Response Code: Guidelines to Enable Data Capture for
the Initiation of a SEPA Credit Transfer": version 2.1 of 9 February 2012, chapter 2 (definition:
error level M, at most version 13, 331 bytes of content; the order of the fields, one a line), and
its sample, a transfer of one euro to the Red Cross of Belgium, as quoted in
https://en.wikipedia.org/wiki/EPC_QR_code. Version ``002`` of the content, in which the BIC may be
left out within the European Economic Area, came with version 2.0 of 2015; the sample is of ``001``.
"""

from decimal import Decimal
from typing import Any

import numpy as np
import pytest
import segno
import zxingcpp

from callroom.model import Team
from callroom.model.paying import PayTo
from callroom.views.paying import reference_of
from callroom.web.qr import pay_code

SAMPLE = [
    "BCD",  # service tag
    "001",  # version
    "1",  # character set: UTF-8
    "SCT",  # identification
    "BPOTBEB1",  # BIC of the beneficiary's bank
    "Red Cross of Belgium",  # name
    "BE72000000001616",  # IBAN
    "EUR1",  # amount
    "CHAR",  # purpose, which may be left out
    "",  # structured reference
    "Urgency fund",  # or unstructured
    "Sample EPC QR code",  # for the payer, which may be left out
]
RED_CROSS = PayTo(name=SAMPLE[5], iban=SAMPLE[6], bic=SAMPLE[4])


def read(code: segno.QRCode) -> str:
    """What a phone reads."""
    rows = [[0 if dark else 255 for dark in row] for row in code.matrix_iter(scale=4, border=4)]
    picture: Any = np.array(rows, dtype=np.uint8)
    (found,) = zxingcpp.read_barcodes(picture)
    return str(found.text)


def test_the_sample_is_read_field_by_field() -> None:
    lines = read(pay_code(RED_CROSS, Decimal("1.00"), SAMPLE[10])).split("\n")
    same = [0, 3, 4, 5, 6, 7, 9, 10]
    assert [lines[number] for number in same] == [SAMPLE[number] for number in same]
    assert lines[1] == "002"
    assert lines[8] == ""


@pytest.mark.parametrize(
    ("amount", "written"),
    [("80", "EUR80"), ("100.00", "EUR100"), ("12.5", "EUR12.5"), ("0.01", "EUR0.01"),
     ("999999999.99", "EUR999999999.99")],
)  # fmt: skip
def test_an_amount_has_no_more_than_two_decimals_and_a_point(amount: str, written: str) -> None:
    assert read(pay_code(RED_CROSS, Decimal(amount), "T07")).split("\n")[7] == written


def test_it_keeps_to_the_level_and_the_size_also_when_all_is_long_and_in_another_script() -> None:
    to = PayTo(name="Ł" * 70, iban="MT84MALT011000012345MTLCAST001S", bic="NWBKGB2LXXX")
    team = Team(id="T07", name="Grüße & Κύμα 💪 " * 20, division="open")
    code = pay_code(to, Decimal("999999999.99"), reference_of(team))
    assert code.error == "M"
    assert int(code.version) <= 13
    assert len(read(code).encode()) <= 331
    greek = pay_code(PayTo(name="Κύμα", iban=to.iban), Decimal(5), "T07")
    assert read(greek).split("\n")[5] == "Κύμα"


def test_a_reference_has_only_signs_that_every_bank_passes_on() -> None:
    team = Team(id="T07", name="Grüße & Łódź_“Four” 💪", division="open")
    assert reference_of(team) == "T07 Grusse odz Four"
