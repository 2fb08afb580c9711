"""Typst: from a template of ours and a payload to the bytes of a PDF."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Literal

import msgspec
import typst

from callroom.model import CallroomError
from callroom.paper.glyphs import coverage, drawable

PaperSize = Literal["a4", "us-letter"]
Text = str
Payload = Mapping[str, object]

_HERE = Path(__file__).parent
_TEMPLATES = _HERE / "templates"
_FONTS = _HERE / "fonts"


class PaperFailed(CallroomError):
    """A sheet that could not be set.

    Rules: ``paper.fonts_missing`` (`folder`), ``paper.not_set`` (`template`, `message`): the
    sheet has a fault or Typst warns of one; that is a fault of ours, never of the data.
    """


def typeset(
    template: str,
    payload: Payload,
    *,
    size: PaperSize | Literal["a3", "us-tabloid"],
    at: datetime,
    pictures: Mapping[str, str] | None = None,
) -> bytes:
    """Return a sheet as a tagged PDF (PDF/UA-1); the same arguments give the same bytes.

    Parameters
    ----------
    template
        The name of a template, without its ending.
    payload
        What the template draws: texts ready to be read, numbers and lists. Signs that the
        font cannot draw are left out.
    size
        The paper.
    at
        The time that the document says it was made at.
    pictures
        SVG pictures by name.

    Raises
    ------
    PaperFailed
        If the fonts are missing or the template does not compile without a warning.
    """
    inputs = _inputs(payload, size, pictures)
    try:
        pdf, warnings = typst.compile_with_warnings(
            _TEMPLATES / f"{template}.typ",
            root=_TEMPLATES,
            font_paths=_typst_fonts(),
            ignore_system_fonts=True,
            format="pdf",
            sys_inputs=inputs,
            pdf_standards=["ua-1"],
            timestamp=int(at.timestamp()),
        )
    except typst.TypstError as fault:
        raise PaperFailed("paper.not_set", template=template, message=fault.message) from fault
    if warnings:
        raise PaperFailed("paper.not_set", template=template, message=warnings[0].message)
    return pdf


def draw(
    template: str,
    payload: Payload,
    *,
    size: PaperSize,
    pictures: Mapping[str, str] | None = None,
) -> str:
    """Return the first page of a sheet as an SVG picture: the sheet itself, to look at.

    Raises
    ------
    PaperFailed
        If the fonts are missing or the template does not compile.
    """
    try:
        compiled: object = typst.compile(
            _TEMPLATES / f"{template}.typ",
            root=_TEMPLATES,
            font_paths=_typst_fonts(),
            ignore_system_fonts=True,
            format="svg",
            sys_inputs=_inputs(payload, size, pictures),
        )
    except typst.TypstError as fault:
        raise PaperFailed("paper.not_set", template=template, message=fault.message) from fault
    # One page comes as bytes, several as a list, whatever the library's types say.
    first = compiled[0] if isinstance(compiled, list) else compiled
    return str(first, "utf-8") if isinstance(first, bytes) else ""


def _inputs(payload: Payload, size: str, pictures: Mapping[str, str] | None) -> dict[str, str]:
    return {
        "payload": msgspec.json.encode(_drawable(payload, _covered())).decode(),
        "pictures": msgspec.json.encode(pictures or {}).decode(),
        "size": size,
    }


def name_text(name: str, instead: str) -> str:
    """Return a name as far as the font can draw it, told apart by an id where it cannot.

    `instead` (the id) stands for a name of which nothing is left, and behind one that has
    lost letters: of two scripts' names the same few might be left.
    """
    covered = _covered()
    seen = " ".join(drawable(name, covered).split())
    if not any(sign.isalnum() for sign in seen):
        return instead
    lost = any(sign.isalnum() and ord(sign) not in covered for sign in name)
    return f"{seen} ({instead})" if lost and instead else seen


def _drawable(value: object, covered: frozenset[int]) -> object:
    if isinstance(value, str):
        return drawable(value, covered)
    if isinstance(value, Mapping):
        return {key: _drawable(one, covered) for key, one in value.items()}
    if isinstance(value, Sequence):
        return [_drawable(one, covered) for one in value]
    return value


@cache
def _font_files() -> tuple[Path, ...]:
    files = tuple(sorted(_FONTS.glob("*.ttf")))
    if not files:
        raise PaperFailed("paper.fonts_missing", folder=str(_FONTS))
    return files


@cache
def _covered() -> frozenset[int]:
    return coverage(_font_files())


@cache
def _typst_fonts() -> typst.Fonts:
    """Return the shipped fonts and no others: neither the system's nor those in Typst."""
    _font_files()
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[_FONTS]
    )
