"""From an address to the name of a file: one folder, no two alike on any system."""

_PLAIN = frozenset("abcdefghijklmnopqrstuvwxyz0123456789")


class Names:
    """The names given so far; the same address always has the same one."""

    def __init__(self) -> None:
        """Begin with none."""
        self._names: dict[str, str] = {}
        self._taken: set[str] = set()

    def of(self, path: str) -> str:
        """Return the file name for the path of an address: ``/team/T1`` is ``team-T1.html``."""
        if path not in self._names:
            self._names[path] = self._fresh(path)
        return self._names[path]

    def _fresh(self, path: str) -> str:
        if path.startswith("/static/"):
            return path.lstrip("/")
        bare, dot, end = path.rpartition(".ics")
        steps = (bare if dot and not end else path).strip("/").split("/")
        stem = "-".join(_safe(step) for step in steps if step) or "index"
        ending = ".ics" if dot and not end else ".html"
        name, again = stem + ending, 1
        # Folders that do not tell capitals apart would make one file of two.
        while name.casefold() in self._taken:
            again += 1
            name = f"{stem}_{again}{ending}"
        self._taken.add(name.casefold())
        return name


def _safe(step: str) -> str:
    return "".join(
        sign if sign.lower() in _PLAIN and sign.isascii() else f"_{ord(sign):x}" for sign in step
    )
