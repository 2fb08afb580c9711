"""The director's own movements: read from a file or a form, and put into the library."""

import tomllib
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType
from typing import Any

import msgspec

from callroom.model import Finding
from callroom.model.finding import errors_among
from callroom.model.movement import Movement
from callroom.standards.library import (
    Library,
    add_movements,
    built_in,
    change_movements,
    checked,
)
from callroom.standards.reading import Place


class Own(msgspec.Struct, frozen=True, kw_only=True):
    """Movements of the director's own, and what was found in them.

    With an error among the `findings` there are none.
    """

    movements: tuple[Movement, ...]
    findings: tuple[Finding, ...]


@lru_cache(maxsize=16)
def library_with(own: tuple[Movement, ...]) -> Library:
    """Return the library with the director's own movements in it, or in the place of its own."""
    base = built_in()
    if not own:
        return base
    movements = {**base.movements, **{one.id: one for one in own}}
    return Library(movements=MappingProxyType(movements), poses=base.poses)


def read_own(text: str, file: str) -> Own:
    """Return the movements that the ``[[movement]]`` and ``[[change]]`` tables of a file make.

    Parameters
    ----------
    text
        The whole file, TOML that could be read before; its other tables are passed over.
    file
        Its name, for messages.
    """
    findings: list[Finding] = []
    place = Place(file, faults=findings)
    base = built_in()
    movements = dict(base.movements)
    table = {
        key: value for key, value in tomllib.loads(text).items() if key in {"movement", "change"}
    }
    add_movements(table, movements, base.poses, place)
    change_movements(table, movements, base.poses, place)
    own = tuple(one for name, one in movements.items() if base.movements.get(name) != one)
    return Own(movements=() if errors_among(tuple(findings)) else own, findings=tuple(findings))


def read_movement(row: Mapping[str, Any]) -> Own:
    """Return the one movement that a form's values make.

    The findings' fact ``key`` is the place in `row`: ``"no_reps 2, label"``; ``file`` is empty.
    """
    findings: list[Finding] = []
    made = checked(dict(row), built_in().poses, Place("", faults=findings))
    sound = made is not None and not errors_among(tuple(findings))
    return Own(movements=(made,) if made is not None and sound else (), findings=tuple(findings))


def check_own(own: tuple[Movement, ...]) -> tuple[Finding, ...]:
    """Return everything that does not fit together in movements of the director's own."""
    found: list[Finding] = []
    for one in own:
        place = Place("", (f'movement "{one.id}"',), found)
        checked(msgspec.to_builtins(one), built_in().poses, place)
    return tuple(found)
