"""What lies in the folder of a rolling copy: the copy, a note about it, the mark of who took it."""

import hashlib
import os
import secrets
import shutil
from pathlib import Path
from typing import TypeVar

import msgspec

from callroom.model import NotFound, Refusal

Kind = TypeVar("Kind", bound=msgspec.Struct)

SUFFIX = ".standby"
"""A copy's name is its book's with this behind: not taken for a book by anybody who opens it."""


class CopyNote(msgspec.Struct, frozen=True, kw_only=True):
    """What a copy is: written after it, so that a note always fits a whole copy or none.

    Attributes
    ----------
    book, event
        The book's file name, and the event's.
    seq, seal, last_ms
        The last entry, its printed seal, and when it was stored [ms, UTC].
    made_ms
        When the copy was made [ms, UTC].
    digest
        SHA-256 of the copy's bytes, as hexadecimal digits.
    generation, machine, addresses
        Which laptop in turn made it, its name, and where its server answers.
    """

    book: str
    event: str
    seq: int
    seal: str
    last_ms: int
    made_ms: int
    digest: str
    generation: int
    machine: str
    addresses: tuple[str, ...]


class TakenMark(msgspec.Struct, frozen=True, kw_only=True):
    """Who carries on from a copy: the laptop's name, its address if known, since when [ms, UTC]."""

    generation: int
    machine: str
    address: str
    at_ms: int


class StandbyFiles:
    """The three files of one book's copy in a folder."""

    def __init__(self, copy: Path) -> None:
        """Name them by the copy's own path."""
        self.copy = copy

    @classmethod
    def for_book(cls, folder: Path, book: Path) -> "StandbyFiles":
        """Return where the copy of `book` lies in `folder`."""
        return cls(folder / (book.name + SUFFIX))

    @classmethod
    def found(cls, given: Path) -> "StandbyFiles":
        """Return the copy that `given` is, or that lies in the folder `given`.

        Raises
        ------
        NotFound
            If there is none.
        Refusal
            If there are several.
        """
        if given.is_file():
            return cls(given)
        copies = sorted(given.glob(f"*{SUFFIX}")) if given.is_dir() else []
        if not copies:
            raise NotFound("carry.no_copy", folder=str(given))
        if len(copies) > 1:
            names = ", ".join(path.name for path in copies)
            raise Refusal("carry.several", folder=str(given), copies=names)
        return cls(copies[0])

    def note(self) -> CopyNote | None:
        """Return the note; None without one that can be read."""
        return _read(self._beside("json"), CopyNote)

    def mark(self) -> TakenMark | None:
        """Return who took the copy; None if nobody did."""
        return _read(self._beside("taken"), TakenMark)

    def put_copy(self, source: Path, note: CopyNote) -> None:
        """Put a copy in place, then its note; the bytes are read back.

        Raises
        ------
        OSError
            If the folder does not take it, or what lies there afterwards is something else.
        """
        part = self.copy.with_name(f".{self.copy.name}.{secrets.token_hex(4)}.part")
        try:
            # Made for the owner only before anything is in it: it holds medical notes.
            os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_RDWR, 0o600))
            shutil.copyfile(source, part)
            _sync(part)
            if digest_of(part) != note.digest:
                raise OSError(f"{part.name} is not what was written")
            part.replace(self.copy)
        finally:
            part.unlink(missing_ok=True)
        _write(self._beside("json"), note)

    def put_mark(self, mark: TakenMark) -> None:
        """Say who carries on; OSError if the folder does not take it."""
        _write(self._beside("taken"), mark)

    def _beside(self, end: str) -> Path:
        return self.copy.with_name(f"{self.copy.name}.{end}")


def digest_of(path: Path) -> str:
    """Return the SHA-256 of a file as hexadecimal digits."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _read(path: Path, kind: type[Kind]) -> Kind | None:
    try:
        return msgspec.json.decode(path.read_bytes(), type=kind)
    except (OSError, msgspec.MsgspecError):
        return None


def _write(path: Path, value: msgspec.Struct) -> None:
    part = path.with_name(path.name + ".part")
    part.write_bytes(msgspec.json.encode(value))
    _sync(part)
    part.replace(path)


def _sync(path: Path) -> None:
    with path.open("rb+") as file:
        os.fsync(file.fileno())
