"""Which field of the builder a fault concerns."""

from collections.abc import Iterable

import msgspec

from callroom.actions.workouts import check_drafted, with_workout
from callroom.model import Event, Finding, State
from callroom.web.builder.draft import Node, Path, field_name
from callroom.web.builder.read import Reading

_LISTS = ("parts", "blocks", "tasks")
# Where a check speaks of a whole that has no field of its own: the field to begin mending at,
# of a workout, a part, a block, a task.
_MENDED_AT = ("name", "kind", "rounds", "movement")


class Fault(msgspec.Struct, frozen=True, kw_only=True):
    """What is wrong, or worth knowing, and the name of the field it concerns."""

    field: str
    finding: Finding


def faults_of(state: State, event: Event, root: Node, reading: Reading) -> tuple[Fault, ...]:
    """Return everything wrong with a draft for `event`, what cannot be read first.

    Of a field that cannot be read nothing else is said. Of `state` the kit list is looked at.
    """
    unread = [Fault(field=one.subject, finding=one) for one in reading.faults]
    named = {fault.field for fault in unread}
    checked = _checked(check_drafted(state, with_workout(event, reading.workout), root.id), root)
    return (*unread, *(fault for fault in checked if fault.field not in named))


def _checked(findings: Iterable[Finding], root: Node) -> list[Fault]:
    own = f"workouts.{root.id}"
    return [
        Fault(field=_field(root, finding.subject.removeprefix(own).strip(".")), finding=finding)
        for finding in findings
        if finding.subject == own or finding.subject.startswith(f"{own}.")
    ]


def _field(root: Node, rest: str) -> str:
    """Return the field of ``"parts.a.blocks.b1.tasks.t2.amounts"``; of a list, what mends it."""
    words = rest.split(".") if rest else []
    path: Path = ()
    node = root
    while len(words) > 1 and words[0] in _LISTS:
        index = next((at for at, one in enumerate(node.inside) if one.id == words[1]), None)
        if index is None:
            break
        path, node = (*path, index), node.inside[index]
        words = words[2:]
    name = words[0] if words else ""
    return field_name(path, _MENDED_AT[len(path)] if name in {"", *_LISTS} else name)
