"""QR codes that go into a page."""

import io

import segno


def qr_svg(text: str) -> str:
    """Return the QR code of `text` as SVG."""
    picture = io.BytesIO()
    segno.make_qr(text, error="m").save(
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
