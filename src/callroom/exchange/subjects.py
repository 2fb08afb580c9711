"""From the subject of a finding to the place in the file that says it."""

from collections.abc import Mapping

from callroom.exchange.toml_positions import Path

# Fields of the model that the file calls otherwise, beyond a unit at their end.
_CALLED = {
    "make_up": ("team",),
    "kind": ("result",),
    "share_percent": ("worth",),
    "variation_rules": ("allow",),
    "movement_rules": ("bar",),
    "changeover_same_s": ("changeover", "same"),
    "changeover_division_s": ("changeover", "division"),
    "changeover_workout_s": ("changeover", "workout"),
}
_AMOUNTS = ("reps", "metres", "calories", "seconds", "tries")


class Subjects:
    """Which table of the file describes which thing of the model.

    The file may leave out what a coach would leave out (the one part of a workout, the ids
    of blocks), so the two do not always have the same path.
    """

    def __init__(self) -> None:
        self._tables: dict[str, Path] = {}

    def put(self, subject: str, table: Path) -> None:
        """Remember that `table` describes `subject`, ``"workouts.w1.parts.a"``."""
        self._tables[subject] = table

    def path(self, subject: str, values: Mapping[str, object]) -> Path:
        """Return the path of the key that says `subject`, as far as the file has it.

        Parameters
        ----------
        subject
            A thing, with the name of one of its fields behind a dot or without.
        values
            The outermost table of the file.
        """
        thing, fields = subject, ""
        while thing and thing not in self._tables:
            thing, _, last = thing.rpartition(".")
            fields = f"{last}.{fields}" if fields else last
        table = self._tables.get(thing, ())
        steps = fields.split(".") if fields else []
        if not steps:
            return table
        for keys in _spellings(steps[-1]):
            path = (*table, *steps[:-1], *keys)
            if _leads_to(path, values):
                return _given_part(path, values)
        return _given_part((*table, *steps), values)


def _spellings(field: str) -> list[tuple[str, ...]]:
    """Return the keys by which the file may call a field, the likeliest first."""
    if field in {"amounts", "unit"}:
        return [(key,) for key in _AMOUNTS]
    plain = field.removesuffix("_s").removesuffix("_ms")
    pinned = [("at",)] if field == "start_s" else []
    return [*pinned, _CALLED.get(field, (plain,)), (field,)]


def _leads_to(path: Path, values: object) -> bool:
    return len(_given_part(path, values)) == len(path)


def _given_part(path: Path, values: object) -> Path:
    """Return as much of `path` as leads somewhere; numbers in it count the rows of lists."""
    given: list[str | int] = []
    for step in path:
        row = int(step) if isinstance(values, list) and str(step).isdigit() else step
        try:
            values = values[row]  # type: ignore[index]
        except (LookupError, TypeError):
            break
        given.append(row)
    return tuple(given)
