"""A draft: the texts of a workout's fields, in a tree of parts, blocks and tasks.

A field's name in the form is the path of its node, a slash, and its own name:
``"/name"`` of the workout, ``"0/cap_s"`` of its first part, ``"0.1.2/amounts"`` of the third
task of its second block.
"""

from collections.abc import Iterator, Mapping

import msgspec

from callroom.model import Event

Path = tuple[int, ...]
Texts = Mapping[str, str]

DEEPEST = 3
MOST_NODES = 200
"""Parts, blocks and tasks together; no workout that people can do comes near."""

LEVELS = ("workout", "part", "block", "task")


class Node(msgspec.Struct, frozen=True, kw_only=True):
    """A workout, part, block or task as typed: its texts by field, and what is in it."""

    texts: Texts
    inside: tuple["Node", ...] = ()

    def text(self, name: str) -> str:
        """Return what is typed in a field; empty where nothing is."""
        return self.texts.get(name, "")

    @property
    def id(self) -> str:
        """The id of what is being built."""
        return self.text("id")


class Draft(msgspec.Struct, frozen=True, kw_only=True):
    """A workout as typed so far; `basis` is the `seq` of the event it was begun from."""

    basis: int
    root: Node


def field_name(path: Path, name: str) -> str:
    """Return the name of a field in the form."""
    return f"{'.'.join(map(str, path))}/{name}"


def nodes(root: Node, path: Path = ()) -> Iterator[tuple[Path, Node]]:
    """Give every node with its path, each before what is in it."""
    yield path, root
    for index, node in enumerate(root.inside):
        yield from nodes(node, (*path, index))


def posted_root(texts: Mapping[str, str]) -> Node | None:
    """Return the tree that a form was filled in as; None if the form is not one of ours."""
    by_path: dict[Path, dict[str, str]] = {}
    for field, text in texts.items():
        at, slash, name = field.partition("/")
        steps = at.split(".") if at else []
        if not slash or not all(step.isascii() and step.isdigit() for step in steps):
            continue
        by_path.setdefault(tuple(map(int, steps)), {})[name] = text.strip()
    if () not in by_path or len(by_path) > MOST_NODES or max(map(len, by_path)) > DEEPEST:
        return None
    return _tree((), by_path)


def _tree(path: Path, by_path: Mapping[Path, Texts]) -> Node:
    own = sorted(one for one in by_path if len(one) == len(path) + 1 and one[:-1] == path)
    return Node(texts=by_path[path], inside=tuple(_tree(one, by_path) for one in own))


def blank(level: str, taken: frozenset[str] = frozenset()) -> Node:
    """Return a new part, block or task with what is usual, under an id not `taken`."""
    if level == "part":
        texts = {"id": _free("", "abcdefghijklmnopqrstuvwxyz", taken), "kind": "time"}
        return Node(texts={**texts, "cap_s": "10:00"}, inside=(blank("block"),))
    letter = "b" if level == "block" else "t"
    new = _free(letter, map(str, range(1, MOST_NODES + 2)), taken)
    if level == "block":
        return Node(texts={"id": new}, inside=(blank("task", taken | {new}),))
    return Node(texts={"id": new, "unit": "reps"})


def _free(before: str, endings: Iterator[str] | str, taken: frozenset[str]) -> str:
    return next(
        (before + one for one in endings if before + one not in taken), f"x{len(taken) + 1}"
    )


def next_workout_id(event: Event, drafted: frozenset[str]) -> str:
    """Return an id for one more workout: ``"w6"``."""
    taken = {workout.id for workout in event.workouts} | drafted
    numbers = range(len(event.workouts) + 1, len(event.workouts) + len(taken) + 2)
    return next(f"w{number}" for number in numbers if f"w{number}" not in taken)
