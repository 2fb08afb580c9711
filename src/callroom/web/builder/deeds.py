"""What the buttons of the builder do to a draft: add, copy, move, remove."""

from typing import Literal, get_args

import msgspec
from msgspec.structs import replace

from callroom.web.builder.draft import DEEPEST, LEVELS, MOST_NODES, Node, Path, blank, nodes

DeedKind = Literal["add", "copy", "up", "down", "remove"]
_KINDS: tuple[DeedKind, ...] = get_args(DeedKind)


class Deed(msgspec.Struct, frozen=True):
    """One press of a button: what to do with the node at `path`; `add` adds inside it."""

    kind: DeedKind
    path: Path


def read_deed(text: str) -> Deed | None:
    """Return the deed of a button's value, ``"up 0.1.2"``; None if it is none."""
    said, _, at = text.partition(" ")
    kind = next((one for one in _KINDS if one == said), None)
    steps = at.split(".") if at else []
    if kind is None or not all(step.isascii() and step.isdigit() for step in steps):
        return None
    deepest = DEEPEST - 1 if kind == "add" else DEEPEST
    least = 0 if kind == "add" else 1
    return Deed(kind, tuple(map(int, steps))) if least <= len(steps) <= deepest else None


def do(root: Node, deed: Deed) -> tuple[Node, Path]:
    """Return the tree after a deed, and the node to go on at.

    What cannot be done (the first one moved up, a node that is not there) changes nothing.
    """
    if len(list(nodes(root))) >= MOST_NODES and deed.kind in {"add", "copy"}:
        return root, deed.path
    holder = deed.path if deed.kind == "add" else deed.path[:-1]
    parent = _at(root, holder)
    if parent is None:
        return root, ()
    taken = frozenset(node.id for _, node in nodes(root))
    children, index = _changed(parent.inside, deed, taken)
    after = (*holder, index) if index is not None else holder
    return _put(root, holder, replace(parent, inside=children)), after


def _changed(
    inside: tuple[Node, ...], deed: Deed, taken: frozenset[str]
) -> tuple[tuple[Node, ...], int | None]:
    if deed.kind == "add":
        return (*inside, blank(LEVELS[len(deed.path) + 1], taken)), len(inside)
    index = deed.path[-1]
    if index >= len(inside):
        return inside, None
    if deed.kind == "remove":
        left = inside[:index] + inside[index + 1 :]
        return left, min(index, len(left) - 1) if left else None
    if deed.kind == "copy":
        twin = _renamed(inside[index], len(deed.path), set(taken))
        return (*inside[: index + 1], twin, *inside[index + 1 :]), index + 1
    other = index - 1 if deed.kind == "up" else index + 1
    if not 0 <= other < len(inside):
        return inside, index
    moved = list(inside)
    moved[index], moved[other] = moved[other], moved[index]
    return tuple(moved), other


def _renamed(node: Node, depth: int, taken: set[str]) -> Node:
    """Return a copy under new ids, also of what is in it."""
    new = blank(LEVELS[depth], frozenset(taken)).id
    taken.add(new)
    inside = tuple(_renamed(child, depth + 1, taken) for child in node.inside)
    return Node(texts={**node.texts, "id": new}, inside=inside)


def _at(root: Node, path: Path) -> Node | None:
    for index in path:
        if index >= len(root.inside):
            return None
        root = root.inside[index]
    return root


def _put(root: Node, path: Path, node: Node) -> Node:
    if not path:
        return node
    index = path[0]
    child = _put(root.inside[index], path[1:], node)
    return replace(root, inside=(*root.inside[:index], child, *root.inside[index + 1 :]))
