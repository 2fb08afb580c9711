"""The library: the movements that come with Callroom, and a director's own additions."""

import tomllib
from collections.abc import Iterable, Mapping
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path
from types import MappingProxyType
from typing import Any, get_args

import msgspec

from callroom.model import BadInput, Finding, NotFound
from callroom.model.finding import errors_among
from callroom.model.movement import Family, Movement
from callroom.standards.checking import check_id, check_movement
from callroom.standards.landmarks import Unmeasured
from callroom.standards.measuring import unmet
from callroom.standards.pose import Pose
from callroom.standards.reading import Place, nearest, read_struct, shown

MOST_BYTES = 1_000_000
"""A longer file is no list of movements."""

_TABLES = ("family", "movement", "change", "pose")


class Library(msgspec.Struct, frozen=True, kw_only=True):
    """Movements and poses by id."""

    movements: Mapping[str, Movement]
    poses: Mapping[str, Pose]


class Loaded(msgspec.Struct, frozen=True, kw_only=True):
    """A library, and what was found wrong with the files added to it.

    With an error among the `findings` the library is the one without those files.
    """

    library: Library
    findings: tuple[Finding, ...]


def movement(movement_id: str) -> Movement:
    """Return a movement that comes with Callroom.

    Raises
    ------
    NotFound
        If there is none of that id; the refusal names the nearest.
    """
    known = built_in().movements
    if movement_id not in known:
        near = nearest(movement_id, tuple(known))
        raise NotFound("standards.no_such_movement", given=shown(movement_id), near=near)
    return known[movement_id]


def all_movements() -> tuple[Movement, ...]:
    """Return every movement that comes with Callroom, family by family."""
    order = get_args(Family)
    return tuple(sorted(built_in().movements.values(), key=lambda one: order.index(one.family)))


def load_movements(paths: Iterable[Path]) -> Loaded:
    """Return the library with a director's own TOML files added, in order.

    A file may add ``[[movement]]`` tables, ``[[change]]`` tables that name a ``movement``
    and give only the keys to replace, and ``[[pose]]`` tables. A movement with ``instead``
    stands in the place of one that there is. Every fault of every file is
    reported at once; nothing is half loaded.
    """
    texts: dict[str, str] = {}
    findings: list[Finding] = []
    for path in paths:
        place = Place(path.name, faults=findings)
        try:
            if path.stat().st_size > MOST_BYTES:
                place.fault("standards.too_large", most_kb=MOST_BYTES // 1000)
            else:
                texts[path.name] = path.read_bytes().decode("utf-8-sig")
        except OSError as fault:
            place.fault("standards.cannot_open", detail=shown(fault.strerror or fault))
        except UnicodeDecodeError as fault:
            place.fault("standards.not_toml", detail=shown(fault.reason))
    return read_movements(texts, already=tuple(findings))


def read_movements(
    texts: Mapping[str, str], base: Library | None = None, already: tuple[Finding, ...] = ()
) -> Loaded:
    """Return a library (the built-in one) with the files `texts`, by name, added to it."""
    base = built_in() if base is None else base
    loaded = _read(texts, base, already)
    if errors_among(loaded.findings):
        return Loaded(library=base, findings=loaded.findings)
    return loaded


@cache
def built_in() -> Library:
    """Return the movements and poses that come with Callroom.

    Raises
    ------
    BadInput
        If the package's own data is faulty, which a test makes sure it is not.
    """
    data = files("callroom.standards") / "data"
    texts = {
        f"{folder.name}/{file.name}": file.read_text(encoding="utf-8")
        for folder in (data / "poses", data / "movements")
        for file in _toml_files(folder)
    }
    loaded = _read(texts, Library(movements={}, poses={}), ())
    if loaded.findings:
        raise BadInput(loaded.findings)
    return loaded.library


def _toml_files(folder: Traversable) -> list[Traversable]:
    found = [file for file in folder.iterdir() if file.name.endswith(".toml")]
    return sorted(found, key=lambda file: file.name)


def _read(texts: Mapping[str, str], base: Library, already: tuple[Finding, ...]) -> Loaded:
    findings = list(already)
    tables = [(Place(name, faults=findings), text) for name, text in texts.items()]
    parsed = [(place, _parsed(text, place)) for place, text in tables]
    poses = dict(base.poses)
    for place, table in parsed:
        _add_poses(table, poses, place)
    movements = dict(base.movements)
    for place, table in parsed:
        add_movements(table, movements, poses, place)
        change_movements(table, movements, poses, place)
    library = Library(movements=MappingProxyType(movements), poses=MappingProxyType(poses))
    return Loaded(library=library, findings=tuple(findings))


def _parsed(text: str, place: Place) -> dict[str, Any]:
    try:
        table = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError) as fault:
        place.fault("standards.not_toml", detail=shown(fault))
        return {}
    for key in table:
        if key not in _TABLES:
            place.below(key).fault(
                "standards.key_unknown", near=nearest(key, _TABLES), known=", ".join(_TABLES)
            )
    return table


def _rows(table: Mapping[str, Any], key: str, place: Place) -> list[tuple[dict[str, Any], Place]]:
    """Return the tables of a list with the place of each, named by its id where it has one."""
    rows = table.get(key, [])
    if not isinstance(rows, list):
        place.below(key).fault("standards.no_list", given=shown(rows))
        return []
    found = []
    for number, row in enumerate(rows, start=1):
        name = (row.get("id") or row.get("movement")) if isinstance(row, dict) else None
        label = f'{key} "{shown(name)}"' if isinstance(name, str) and name else f"{key} {number}"
        at = place.below(label)
        if isinstance(row, dict):
            found.append((row, at))
        else:
            at.fault("standards.no_table", given=shown(row))
    return found


def _add_poses(table: Mapping[str, Any], poses: dict[str, Pose], place: Place) -> None:
    for row, at in _rows(table, "pose", place):
        pose = read_struct(Pose, row, at)
        if pose is None:
            continue
        check_id(pose.id, at.below("id"))
        if pose.id in poses:
            at.below("id").fault("standards.id_twice", given=shown(pose.id))
        poses[pose.id] = pose


def add_movements(
    table: Mapping[str, Any],
    movements: dict[str, Movement],
    poses: Mapping[str, Pose],
    place: Place,
) -> None:
    """Add the ``[[movement]]`` tables of a file to `movements`."""
    usual = {"family": table["family"]} if "family" in table else {}
    for row, at in _rows(table, "movement", place):
        said = {**usual, **row}
        instead = said.pop("instead", False)
        made = checked(said, poses, at)
        if made is None:
            continue
        if made.id in movements and instead is not True:
            at.below("id").fault("standards.id_taken", given=shown(made.id))
        movements[made.id] = made


def change_movements(
    table: Mapping[str, Any],
    movements: dict[str, Movement],
    poses: Mapping[str, Pose],
    place: Place,
) -> None:
    """Change `movements` as the ``[[change]]`` tables of a file say."""
    for row, at in _rows(table, "change", place):
        given = row.get("movement")
        if not isinstance(given, str) or given not in movements:
            near = nearest(given, tuple(movements)) if isinstance(given, str) else ""
            at.below("movement").fault("standards.nothing_to_change", given=shown(given), near=near)
            continue
        changes = {key: value for key, value in row.items() if key != "movement"}
        whole = {**msgspec.to_builtins(movements[given]), **changes, "id": given}
        made = checked(whole, poses, at)
        if made is not None:
            movements[given] = made


def checked(row: dict[str, Any], poses: Mapping[str, Pose], place: Place) -> Movement | None:
    """Return a table as a movement, or None after noting why it is none."""
    made = read_struct(Movement, row, place)
    if made is None:
        return None
    before = len(place.faults)
    check_movement(made, poses, place)
    if len(place.faults) > before:
        return None
    try:
        for stage, point in unmet(made, poses):
            place.fault("standards.measure_unmet", stage=stage, says=point.says)
    except Unmeasured as fault:
        place.fault("standards.landmark_not_shown", stage=fault.stage, landmark=fault.landmark)
    return made
