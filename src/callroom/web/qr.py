"""QR codes that go into a page."""

import io
from decimal import Decimal

import segno
from segno import helpers

from callroom.model.paying import PayTo


def qr_svg(text: str) -> str:
    """Return the QR code of `text` as SVG."""
    return _svg(segno.make_qr(text, error="m"))


def _svg(code: segno.QRCode) -> str:
    picture = io.BytesIO()
    code.save(
        picture,
        kind="svg",
        xmldecl=False,
        svgns=True,
        omitsize=True,
        border=2,
        svgclass="qr",
        lineclass=None,
        light="#fff",
        dark="#000",
    )
    return picture.getvalue().decode()


def pay_code_svg(to: PayTo, amount: Decimal, reference: str) -> str:
    """Return the code that a banking app reads as a transfer in euro, as SVG."""
    return _svg(pay_code(to, amount, reference))


def pay_code(to: PayTo, amount: Decimal, reference: str) -> segno.QRCode:
    """Return the code that a banking app reads as a transfer in euro.

    Source: European Payments Council, EPC069-12, "Quick Response Code: Guidelines to enable data
    capture for the initiation of a SEPA credit transfer": service tag ``BCD``, version ``002``,
    ``SCT``, error level M, at most 331 bytes, amount as ``EUR#.##``.
    """
    return helpers.make_epc_qr(
        to.name,
        to.iban,
        amount,
        text=reference,
        bic=to.bic or None,
        encoding="utf-8",
    )
