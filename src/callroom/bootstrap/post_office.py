"""The outbox of a book: letters wait in it until a server took them, over any restart.

A letter is marked on disk before it is handed over and again when the server took it. What was
being sent when the power went is *unsure*: it is shown, and sent again only if the director says
so. So nothing that a server took is ever sent twice by itself. Several server processes may share
a book: each letter that waits has a ticket, and only who takes the ticket sends it.
"""

import ssl
import threading
from collections.abc import Iterable, Mapping
from typing import Protocol

import msgspec
from msgspec.structs import replace

from callroom.bootstrap.smtp_line import MakeContext, NoLine, SmtpLine
from callroom.model import Refusal, State
from callroom.model.post import OutLetter, PostServer

_SERVER = "post/server"
_TICKET = "post/ticket/"
_NOBODY = "to"
"""Under it lie letters to nobody the book knows, such as a test."""


class Rows(Protocol):
    """A side table of bytes."""

    def get(self, row_id: str, /) -> bytes | None:
        """Return a value, or None."""

    def put(self, row_id: str, value: bytes, /) -> None:
        """Store a value; returns when it is on disk."""

    def delete(self, row_id: str, /) -> None:
        """Remove a value."""

    def take(self, row_id: str, /) -> bytes | None:
        """Remove a value and return it; of all who take it one gets it, the others None."""

    def all(self, prefix: str, /) -> Mapping[str, bytes]:
        """Return the values whose names begin so."""


class Hall(Protocol):
    """What the post needs of the open book."""

    @property
    def state(self) -> State:
        """The State as published."""


class Telling(Protocol):
    """What tells the time."""

    def now_ms(self) -> int:
        """Return the time [ms since 1970, UTC]."""


class PostOffice:
    """The letters of one open book."""

    def __init__(
        self,
        hall: Hall,
        outbox: Rows,
        secrets: Rows,
        clock: Telling,
        make_context: MakeContext = ssl.create_default_context,
    ) -> None:
        """Keep letters in `outbox`, and the server they go through in `secrets`."""
        self._hall = hall
        self._outbox = outbox
        self._secrets = secrets
        self._clock = clock
        self._make_context = make_context
        self._sending = threading.Lock()

    @property
    def server(self) -> PostServer | None:
        """The server letters go through; None: none was set."""
        kept = self._secrets.get(_SERVER)
        return msgspec.json.decode(kept, type=PostServer) if kept is not None else None

    def set_server(self, server: PostServer | None) -> None:
        """Let letters go through a server from now on; None: through none."""
        if server is None:
            self._secrets.delete(_SERVER)
        else:
            self._secrets.put(_SERVER, msgspec.json.encode(server))

    def letters(self) -> tuple[OutLetter, ...]:
        """Return every letter that was put in, the newest first."""
        read = (msgspec.json.decode(row, type=OutLetter) for row in self._outbox.all("").values())
        return tuple(sorted(read, key=lambda one: (-one.made_ms, one.id)))

    def put_in(self, letters: Iterable[tuple[str, OutLetter]]) -> int:
        """Put letters in, each with the person it is about, and return how many are new.

        A letter with an id that is there already is not put in again.
        """
        known = {one.id for one in self.letters()}
        count = 0
        for person, letter in letters:
            if letter.id not in known:
                self._give_ticket(letter)
                self._outbox.put(f"{person or _NOBODY}/{letter.id}", msgspec.json.encode(letter))
                count += 1
        return count

    def take_out(self, letter_id: str) -> None:
        """Let go of a letter, if it is not being sent."""
        with self._sending:
            for row_id in self._rows_of(letter_id):
                self._outbox.delete(row_id)

    def again(self, letter_id: str) -> None:
        """Let a letter that failed, or of which nobody knows, wait to be sent once more."""
        with self._sending:
            for row_id in self._rows_of(letter_id):
                letter = self._read(row_id)
                if letter is not None and letter.state in {"failed", "unsure"}:
                    generation = self._hall.state.generation
                    self._give_ticket(letter)
                    self._keep(row_id, replace(letter, state="waiting", generation=generation))

    def look_after(self) -> None:
        """Mark what nobody knows of: what was being sent when the book was last closed.

        So is what waits in a copy that another laptop carries on from: the first may have sent it.
        """
        with self._sending:
            for row_id in self._outbox.all(""):
                letter = self._read(row_id)
                if letter is None or letter.state not in {"waiting", "sending"}:
                    continue
                lost = self._secrets.get(f"{_TICKET}{letter.id}") is None
                moved = letter.generation != self._hall.state.generation
                if letter.state == "sending" or lost or moved:
                    self._keep(row_id, replace(letter, state="unsure"))

    def send_waiting(self) -> int:
        """Send what waits, one by one, and return how many letters a server took.

        Raises
        ------
        Refusal
            If no server was set, the book is a rehearsal, or it was taken to the hall, whose copy
            of the outbox is the one that counts.
        NoLine
            If the server cannot be reached; the letters wait on.
        """
        server = self.server
        if self._hall.state.rehearsal:
            raise Refusal("post.rehearsal")
        if self._hall.state.away is not None:
            raise Refusal("book.away")
        if server is None:
            raise Refusal("post.no_server")
        with self._sending:
            waiting = [row_id for row_id in self._outbox.all("") if self._waits(row_id)]
            if not waiting:
                return 0
            try:
                with SmtpLine(server, self._make_context) as line:
                    return sum(self._send(line, row_id) for row_id in waiting)
            except NoLine as fault:
                for row_id in waiting:
                    self._note(row_id, str(fault.facts.get("said", "")))
                raise

    def _send(self, line: SmtpLine, row_id: str) -> bool:
        letter = self._read(row_id)
        if letter is None or self._secrets.take(f"{_TICKET}{letter.id}") is None:
            return False
        on_its_way = replace(letter, state="sending", tried_ms=self._clock.now_ms(), said="")
        self._keep(row_id, on_its_way)
        state, said = line.hand_over(letter)
        body = "" if state == "sent" else letter.body
        if state == "waiting":
            self._give_ticket(letter)
        self._keep(row_id, replace(on_its_way, state=state, said=said, body=body))
        return state == "sent"

    def _give_ticket(self, letter: OutLetter) -> None:
        self._secrets.put(f"{_TICKET}{letter.id}", b"1")

    def _note(self, row_id: str, said: str) -> None:
        letter = self._read(row_id)
        if letter is not None and letter.state == "waiting":
            now_ms = self._clock.now_ms()
            self._keep(row_id, replace(letter, tried_ms=now_ms, said=said))

    def _waits(self, row_id: str) -> bool:
        letter = self._read(row_id)
        return letter is not None and letter.state == "waiting"

    def _rows_of(self, letter_id: str) -> list[str]:
        rows = self._outbox.all("")
        return [row_id for row_id in rows if row_id.rpartition("/")[2] == letter_id]

    def _read(self, row_id: str) -> OutLetter | None:
        # Somebody may have been erased meanwhile, and their letters with them.
        kept = self._outbox.get(row_id)
        return msgspec.json.decode(kept, type=OutLetter) if kept is not None else None

    def _keep(self, row_id: str, letter: OutLetter) -> None:
        if self._outbox.get(row_id) is not None:
            self._outbox.put(row_id, msgspec.json.encode(letter))
