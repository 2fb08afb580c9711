"""Measures as a director types them: ``"hip crease below top of knee; knee flexion at most 10"``.

The words are those of the data (``docs/formats.md``) with blanks for underscores, the same in
every language.
"""

import re
from typing import Any, get_args

from callroom.model.movement import (
    Angle,
    Height,
    Joint,
    Landmark,
    Measure,
    Reading,
    Relation,
    Side,
    Touch,
)

_NUMBER = r"(\d{1,3}(?:[.,]\d{1,3})?)"


def _any_of(words: tuple[str, ...]) -> str:
    longest_first = sorted(words, key=len, reverse=True)
    return f"({'|'.join(word.replace('_', ' ') for word in longest_first)})"


_THING = _any_of(get_args(Landmark))
_SIDE = rf"(?:, {_any_of(get_args(Side))}(?: sides?)?)?"
_ANGLE = re.compile(
    rf"{_any_of(get_args(Joint))} {_any_of(get_args(Reading))} "
    rf"(?:at least {_NUMBER}|at most {_NUMBER}|{_NUMBER} to {_NUMBER}){_SIDE}"
)
_HEIGHT = re.compile(rf"{_THING} {_any_of(get_args(Relation))}(?: with)? {_THING}{_SIDE}")
_TOUCH = re.compile(rf"{_THING} (touches|clear of) {_THING}{_SIDE}")
_OVER = re.compile(rf"{_THING} over {_THING} within {_NUMBER}(?: m)?{_SIDE}")


def write_measures(measures: tuple[Measure, ...]) -> str:
    """Return measures as :func:`read_measures` reads them."""
    return "; ".join(map(_written, measures))


def read_measures(text: str) -> tuple[list[dict[str, Any]], str]:
    """Return measures as tables of data, and the first piece that is none (empty: all are)."""
    found = []
    for piece in (" ".join(one.split()).casefold() for one in text.split(";")):
        if not piece:
            continue
        table = _read(piece)
        if table is None:
            return [], piece
        found.append(table)
    return found, ""


def _written(measure: Measure) -> str:
    side = "" if measure.side == "both" else f", {measure.side} side"
    if isinstance(measure, Angle):
        return f"{_spaced(measure.joint)} {_spaced(measure.reads)} {_bounds(measure)}{side}"
    one = _spaced(measure.landmark)
    if isinstance(measure, Height):
        level = " with" if measure.relation == "level" else ""
        return f"{one} {_spaced(measure.relation)}{level} {_spaced(measure.than)}{side}"
    if isinstance(measure, Touch):
        return f"{one} {'touches' if measure.touches else 'clear of'} {_spaced(measure.on)}{side}"
    return f"{one} over {_spaced(measure.over)} within {measure.within_m:g} m{side}"


def _bounds(angle: Angle) -> str:
    least, most = angle.at_least_deg, angle.at_most_deg
    if least is not None and most is not None:
        return f"{least:g} to {most:g}"
    return f"at least {least:g}" if least is not None else f"at most {most or 0:g}"


def _read(piece: str) -> dict[str, Any] | None:
    if found := _ANGLE.fullmatch(piece):
        joint, reads, least, most, low, high, side = found.groups()
        bounds = {"at_least_deg": least or low, "at_most_deg": most or high}
        numbers = {key: _number(text) for key, text in bounds.items() if text is not None}
        return {"measure": "angle", "joint": _id(joint), "reads": _id(reads)} | numbers | _of(side)
    if found := _OVER.fullmatch(piece):
        one, over, within, side = found.groups()
        table = {"measure": "over", "landmark": _id(one), "over": _id(over)}
        return table | {"within_m": _number(within)} | _of(side)
    if found := _HEIGHT.fullmatch(piece):
        one, relation, than, side = found.groups()
        table = {"measure": "height", "landmark": _id(one), "relation": _id(relation)}
        return table | {"than": _id(than)} | _of(side)
    if found := _TOUCH.fullmatch(piece):
        one, how, on, side = found.groups()
        table = {"measure": "touch", "landmark": _id(one), "on": _id(on)}
        return table | {"touches": how == "touches"} | _of(side)
    return None


def _of(side: str | None) -> dict[str, Any]:
    return {} if side is None else {"side": side}


def _number(text: str) -> float:
    return float(text.replace(",", "."))


def _spaced(word: str) -> str:
    return word.replace("_", " ")


def _id(words: str) -> str:
    return words.replace(" ", "_")
