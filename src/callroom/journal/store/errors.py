"""What a book refuses, each with its facts. Rules are named here and worded at the face."""

from pathlib import Path

from callroom.model.errors import CallroomError


class JournalError(CallroomError):
    """Root of everything the journal refuses."""


class BadRequest(JournalError):
    """A request whose envelope is not valid: field, what was given, what is wrong with it."""


class KeyConflict(JournalError):
    """A key that was used before, with other content; nothing is stored."""

    def __init__(self, device: str, key: str) -> None:
        super().__init__("journal.key_conflict", device=device, key=key)


class NotStored(JournalError):
    """The disk did not take the transaction: nothing of it counts as stored.

    The same request may be sent again under the same key.
    """

    def __init__(self, reason: str) -> None:
        super().__init__("journal.not_stored", reason=reason)


class StoreClosed(JournalError):
    """The store is closed and takes no more."""

    def __init__(self) -> None:
        super().__init__("journal.closed")


class BookIsReadOnly(JournalError):
    """Nothing was stored, because the book is open for reading only: for the `cause` given."""

    def __init__(self, cause: CallroomError) -> None:
        super().__init__(cause.rule, **cause.facts)
        self.cause = cause


class NewerBook(JournalError):
    """Made by a newer version of Callroom; it can be read but not written."""

    def __init__(self, path: Path | str, found: int, known: int) -> None:
        super().__init__("journal.book_newer", path=str(path), found=found, known=known)


class AskedReadOnly(JournalError):
    """Whoever opened the book asked to read only."""

    def __init__(self, path: Path | str) -> None:
        super().__init__("journal.asked_read_only", path=str(path))


class OlderBook(JournalError):
    """Made by an older version; it must be opened for writing once to be brought up to date."""

    def __init__(self, path: Path | str, found: int, known: int) -> None:
        super().__init__("journal.book_older", path=str(path), found=found, known=known)


class BookMissing(JournalError):
    """There is no file at this path."""

    def __init__(self, path: Path | str) -> None:
        super().__init__("journal.book_missing", path=str(path))


class FileInTheWay(JournalError):
    """A file is at this path already; it is not overwritten."""

    def __init__(self, path: Path | str) -> None:
        super().__init__("journal.file_in_the_way", path=str(path))


class NotABook(JournalError):
    """The file is something else than a book."""

    def __init__(self, path: Path | str) -> None:
        super().__init__("journal.not_a_book", path=str(path))


class Damaged(JournalError):
    """The file's pages cannot be read; the mend is a backup, and `verify` says how much is lost."""

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__("journal.damaged", path=str(path), reason=reason)


class UnsafeFolder(JournalError):
    """A folder that a cloud service or a network shares (`why`): it would tear a running book.

    The mend: keep the book in a plain folder of this machine, and put backups in the shared one.
    """

    def __init__(self, path: Path, folder: str, why: str) -> None:
        super().__init__("journal.unsafe_folder", path=str(path), folder=folder, why=why)


class BookInUse(JournalError):
    """Another process holds the book; `port` is where its server answers, if it serves."""

    def __init__(self, path: Path, port: int | None) -> None:
        super().__init__("journal.in_use", path=str(path), port=port)


class Unfoldable(JournalError):
    """An entry that can be read but not folded into the State: a fault of ours, not the book's."""

    def __init__(self, seq: int, kind: str, reason: str) -> None:
        super().__init__("journal.unfoldable", seq=seq, kind=kind, reason=reason)


class NotWritten(JournalError):
    """A backup or a new book could not be written; nothing was left at `path`."""

    def __init__(self, path: Path, reason: str) -> None:
        super().__init__("journal.not_written", path=str(path), reason=reason)


class BadAddress(JournalError):
    """Not the address of a book in a database, which is ``postgresql://USER@HOST/DATABASE/BOOK``."""

    def __init__(self, given: str) -> None:
        super().__init__("journal.bad_address", given=given)


class DatabaseFault(JournalError):
    """The database did not do it (`reason`, in its own words); what was stored before is kept."""

    def __init__(self, place: str, reason: str) -> None:
        super().__init__("journal.database_fault", place=place, reason=reason)


class NoDriver(JournalError):
    """The driver for PostgreSQL is not installed."""

    def __init__(self) -> None:
        super().__init__("journal.no_driver")


class FileOnly(JournalError):
    """What was asked for needs a book in a file of this machine."""

    def __init__(self, place: str) -> None:
        super().__init__("journal.file_only", place=place)
