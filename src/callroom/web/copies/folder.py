"""The folder of a copy: each file whole or not at all, only what changed, nothing of others."""

from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path

import msgspec

from callroom.model import CallroomError
from callroom.web.copies.pages import Made

_LIST = "callroom-copy.json"


class NotACopy(CallroomError):
    """The folder is not fit for a copy.

    Rules: ``copy.not_ours`` (`folder`: it holds other things), ``copy.no_folder`` (`folder`,
    `reason`).
    """


class CopyFolder:
    """One folder that holds a copy and nothing else."""

    def __init__(self, folder: Path) -> None:
        """Take an empty folder or an earlier copy; it is made if need be.

        Raises
        ------
        NotACopy
            If something else is in it, or it cannot be made or read.
        """
        listed = folder / _LIST
        try:
            folder.mkdir(parents=True, exist_ok=True)
            foreign = not listed.exists() and any(folder.iterdir())
        except OSError as fault:
            raise NotACopy("copy.no_folder", folder=str(folder), reason=str(fault)) from fault
        if foreign:
            raise NotACopy("copy.not_ours", folder=str(folder))
        self._folder = folder
        self._written: dict[str, str] = {}
        self._listed = _read(listed)

    def write(self, made: Made) -> bool:
        """Write a file if it differs from what was written last; says whether it did."""
        digest = sha256(made.content).hexdigest()
        path = self._folder / made.name
        if self._written.get(made.name) == digest and path.exists():
            return False
        if made.name not in self._listed:
            self._list({*self._listed, made.name})
        _replace(path, made.content)
        self._written[made.name] = digest
        return True

    def keep_only(self, names: Iterable[str]) -> None:
        """Remove what an earlier copy wrote and this one has no more."""
        kept = set(names)
        for name in self._listed - kept:
            (self._folder / name).unlink(missing_ok=True)
            self._written.pop(name, None)
        if self._listed != kept:
            self._list(kept)

    def _list(self, names: set[str]) -> None:
        # Listed before it is there: what is in the folder is always known as ours.
        _replace(self._folder / _LIST, msgspec.json.encode(sorted(names)))
        self._listed = names


def _read(listed: Path) -> set[str]:
    try:
        names = msgspec.json.decode(listed.read_bytes(), type=list[str])
    except (OSError, msgspec.MsgspecError):
        return set()
    return {name for name in names if ".." not in Path(name).parts and not Path(name).anchor}


def _replace(path: Path, content: bytes) -> None:
    """Put a file in place in one step: nobody reads half of it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(path.name + ".part")
    part.write_bytes(content)
    part.replace(path)
