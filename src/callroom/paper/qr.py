"""QR codes as SVG pictures, made once for each text."""

from functools import lru_cache
from io import BytesIO

import segno


@lru_cache(maxsize=8192)
def qr_svg(text: str) -> str:
    """Return the QR code of `text` (ISO/IEC 18004, error level M or better) as an SVG picture.

    The quiet zone of four modules is part of the picture.
    """
    picture = BytesIO()
    segno.make_qr(text, error="m").save(
        picture, kind="svg", border=4, xmldecl=False, omitsize=True, nl=False,
        svgclass=None, lineclass=None,
    )  # fmt: skip
    return picture.getvalue().decode()
