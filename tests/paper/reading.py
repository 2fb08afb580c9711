"""Reading a PDF back: its texts, its fonts, and the QR codes on its pages."""

import io
import subprocess
from typing import Any

import numpy as np
import pypdf
import zxingcpp

POINTS_PER_MM = 72 / 25.4


def pages_of(pdf: bytes) -> list[str]:
    """The text of every page."""
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def count_pages(pdf: bytes) -> int:
    """The number of pages."""
    return len(pypdf.PdfReader(io.BytesIO(pdf)).pages)


def size_mm(pdf: bytes) -> tuple[int, int]:
    """Width and height of the first page [mm], rounded."""
    box = pypdf.PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    return round(float(box.width) / POINTS_PER_MM), round(float(box.height) / POINTS_PER_MM)


def fonts_of(pdf: bytes) -> dict[str, bool]:
    """Every font by its name, and whether its program is in the file."""
    found: dict[str, bool] = {}
    for page in pypdf.PdfReader(io.BytesIO(pdf)).pages:
        resources: Any = page["/Resources"]
        for font in resources.get("/Font", {}).values():
            outer = font.get_object()
            inner = (
                outer["/DescendantFonts"][0].get_object() if "/DescendantFonts" in outer else outer
            )
            described = inner["/FontDescriptor"].get_object()
            program = {"/FontFile", "/FontFile2", "/FontFile3"} & set(described)
            found[str(outer["/BaseFont"])] = bool(program)
    return found


def qr_codes_of(pdf: bytes, page: int, *, dpi: int = 120) -> set[str]:
    """The texts of the QR codes on a page (from 1), drawn as a printer would."""
    drawn = subprocess.run(
        ["pdftoppm", "-gray", "-r", str(dpi), "-f", str(page), "-l", str(page), "-singlefile", "-"],
        input=pdf,
        capture_output=True,
        check=True,
    ).stdout
    magic, size, depth, pixels = drawn.split(b"\n", 3)
    assert (magic, depth) == (b"P5", b"255")
    width, height = map(int, size.split())
    picture = np.frombuffer(pixels, np.uint8).reshape(height, width)
    return {code.text for code in zxingcpp.read_barcodes(picture)}
