import json
from pathlib import Path

import pytest
import typst

import build_frontend

PAGE = """
#set text(font: "Source Sans 3", fallback: false)
#let wide(body) = measure(body).width.pt()
#context [#metadata((
  tabular: (
    wide(text(number-width: "tabular")[1111]),
    wide(text(number-width: "tabular")[8888]),
  ),
  proportional: (
    wide(text(number-width: "proportional")[1111]),
    wide(text(number-width: "proportional")[8888]),
  ),
)) <widths>]
"""


@pytest.fixture
def fonts() -> typst.Fonts:
    return typst.Fonts(
        include_system_fonts=False,
        include_embedded_fonts=False,
        font_paths=[str(build_frontend.FONTS)],
    )


def test_typst_finds_the_family_and_nothing_else(fonts: typst.Fonts) -> None:
    assert fonts.families() == ["Source Sans 3"]


def test_figures_can_be_set_to_one_width(fonts: typst.Fonts, tmp_path: Path) -> None:
    page = tmp_path / "page.typ"
    page.write_text(PAGE, encoding="utf-8")

    (found,) = json.loads(typst.query(str(page), "<widths>", font_paths=fonts))

    ones, eights = found["value"]["tabular"]
    assert ones == pytest.approx(eights)
    ones, eights = found["value"]["proportional"]
    assert ones < eights
