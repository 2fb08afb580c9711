"""Going on with a book on another laptop, from its rolling copy."""

import http.client
import platform
import shutil
from pathlib import Path
from urllib.parse import urlsplit

import msgspec

from callroom.actions.day import carry_book_on
from callroom.bootstrap.books import AT_THE_KEYBOARD, open_book, verify_book
from callroom.bootstrap.clocks import Clock, WallClock
from callroom.bootstrap.standby_files import CopyNote, StandbyFiles, TakenMark, digest_of
from callroom.journal.stores.durable import whole_file
from callroom.journal.stores.folders import refuse_unsafe_folder
from callroom.model import BadInput, Refusal, errors_among, from_milliseconds

_ANSWERS_WITHIN_S = 2.0


class CarriedOn(msgspec.Struct, frozen=True, kw_only=True):
    """A book that goes on here.

    Attributes
    ----------
    path
        The book.
    event, zone
        The event's name, and its time zone.
    seq, last_ms, seal
        The last entry of the copy, when it was stored [ms, UTC], its printed seal. What was
        taken after it on the other laptop is not here.
    generation
        Which laptop in turn this is.
    marked
        Whether the copy's folder now says so; without the mark the other laptop, should it
        come back, does not know.
    """

    path: Path
    event: str
    zone: str
    seq: int
    last_ms: int
    seal: str
    generation: int
    marked: bool


def carry_on(
    given: Path,
    to: Path | None = None,
    *,
    address: str = "",
    although_served: bool = False,
    again: bool = False,
    clock: Clock | None = None,
) -> CarriedOn:
    """Make a book of a rolling copy, as the next laptop in turn.

    Parameters
    ----------
    given
        The copy, or the folder with one in it.
    to
        The book to make; by default its old name in the present folder.
    address
        Where this laptop will answer, for the mark.
    although_served
        Go on although something answers where the book was served.
    again
        Go on although another laptop did.

    Raises
    ------
    Refusal
        If another laptop serves the book or carried on with it, or the copy is not whole.
    BadInput
        If the copied book is not sound, with everything that is wrong.
    JournalError
        If there is a file at `to`, or the place is not fit for a book.
    """
    clock = clock or WallClock()
    files = StandbyFiles.found(given)
    note = _need_whole(files)
    _need_free(files, note, although_served=although_served, again=again)
    path = to or Path(note.book)
    _bring(files.copy, path)
    return _begin(path, note, files, address, clock)


def _need_whole(files: StandbyFiles) -> CopyNote:
    note = files.note()
    if note is None:
        raise Refusal("carry.not_whole", reason=f"{files.copy.name}.json")
    if digest_of(files.copy) != note.digest:
        raise Refusal("carry.not_whole", reason=f"{files.copy.name}: {note.digest[:12]}")
    return note


def _need_free(files: StandbyFiles, note: CopyNote, *, although_served: bool, again: bool) -> None:
    mark = files.mark()
    if mark is not None and mark.generation > note.generation and not again:
        at = from_milliseconds(mark.at_ms).strftime("%H:%M")
        raise Refusal("carry.taken", machine=mark.machine, at=at)
    if although_served:
        return
    for address in note.addresses:
        if _answers(address):
            raise Refusal("carry.still_served", address=address)


def _answers(address: str) -> bool:
    """Whether a server answers there as ours do."""
    parts = urlsplit(address)
    if not parts.hostname:
        return False
    made = http.client.HTTPSConnection if parts.scheme == "https" else http.client.HTTPConnection
    link = made(parts.hostname, parts.port, timeout=_ANSWERS_WITHIN_S)
    try:
        link.request("GET", "/health")
        return link.getresponse().status == 200
    except (OSError, http.client.HTTPException):
        return False
    finally:
        link.close()


def _bring(copy: Path, path: Path) -> None:
    refuse_unsafe_folder(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    with whole_file(path) as part:
        shutil.copyfile(copy, part)
    faults = errors_among(tuple(verify_book(path)))
    if faults:
        path.unlink()
        raise BadInput(faults)


def _begin(
    path: Path, note: CopyNote, files: StandbyFiles, address: str, clock: Clock
) -> CarriedOn:
    book = open_book(path, clock=clock)
    try:
        # A copy that somebody else took before leaves room for one more generation.
        generation = book.state.generation + 1
        zone = book.state.event.zone if book.state.event is not None else "UTC"
        asked = carry_book_on(generation, book.state.seq)
        book.ask_now(AT_THE_KEYBOARD, asked, key=f"carry-on-{generation}-{platform.node()}")
    finally:
        book.close()
    mark = TakenMark(
        generation=generation, machine=platform.node(), address=address, at_ms=clock.now_ms()
    )
    try:
        files.put_mark(mark)
        marked = True
    except OSError:
        marked = False
    return CarriedOn(
        path=path,
        event=note.event,
        zone=zone,
        seq=note.seq,
        last_ms=note.last_ms,
        seal=note.seal,
        generation=generation,
        marked=marked,
    )
