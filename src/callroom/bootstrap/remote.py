"""Writing to a book that a server has: the command line asks through the server.

The server says in a file beside the book where it answers and which token it wants; only the
owner of the machine's account can read that file.
"""

import http.client
from collections.abc import Mapping
from pathlib import Path

import msgspec

from callroom.actions.request import Asked, Request, body_of, kind_of
from callroom.bootstrap.open_book import OpenBook, Outcome
from callroom.journal.store import SideWrite
from callroom.journal.stores import Lease
from callroom.model import Actor, CallroomError, Finding, Refusal, State
from callroom.model.person import Person

OWNER_PATH = "/owner/ask"
_PATIENCE_S = 30


class Carried(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One body under way, with its kind."""

    kind: str
    data: bytes


class OwnerAsk(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A request under way from a command to the server that has the book."""

    key: str
    bodies: tuple[Carried, ...]
    beside: tuple[SideWrite, ...] = ()


class OwnerAnswer(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the server says: the entries, or the findings that forbid them."""

    seqs: tuple[int, ...] = ()
    replayed: bool = False
    refusals: tuple[Finding, ...] = ()


class ServerSilent(CallroomError):
    """The server that should have the book does not answer, or answers something else."""


class RefusedThere(Refusal):
    """The server refused; carries what it said."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        first = findings[0]
        super().__init__(first.rule, **first.facts)
        self.findings = findings


class RemoteBook:
    """A book that a server on this machine has: read from the file, written through the server."""

    def __init__(self, view: OpenBook, path: Path, lease: Lease) -> None:
        """Read by `view` and ask where `lease` says."""
        self.view = view
        self._lease = lease
        self.path = path

    @property
    def state(self) -> State:
        """The State as it stood when the book was opened."""
        return self.view.state

    def ask_now(
        self, _actor: Actor, request: Request, *, key: str, beside: tuple[SideWrite, ...] = ()
    ) -> Outcome:
        """Have a request decided by the server, as the book's owner.

        Raises
        ------
        RefusedThere
            If the rules refuse it.
        ServerSilent
            If the server does not answer.
        """
        answer = self._carry(encode_ask(request, key=key, beside=beside))
        if answer.refusals:
            raise RefusedThere(answer.refusals)
        return Outcome(seqs=answer.seqs, replayed=answer.replayed)

    def _carry(self, ask: bytes) -> OwnerAnswer:
        link = http.client.HTTPConnection("127.0.0.1", self._lease.port, timeout=_PATIENCE_S)
        headers = {"Authorization": f"Bearer {self._lease.token}"}
        try:
            link.request("POST", OWNER_PATH, body=ask, headers=headers)
            response = link.getresponse()
            return msgspec.msgpack.decode(response.read(), type=OwnerAnswer)
        except (OSError, http.client.HTTPException, msgspec.MsgspecError) as fault:
            raise ServerSilent(
                "server.silent", port=self._lease.port, path=str(self.path), reason=str(fault)
            ) from fault
        finally:
            link.close()

    def people(self) -> Mapping[str, Person]:
        """Return everybody the book knows, by id."""
        return self.view.people()

    def close(self) -> None:
        """Let go of the view."""
        self.view.close()


def encode_ask(request: Request, *, key: str, beside: tuple[SideWrite, ...] = ()) -> bytes:
    """Return a request as it travels."""
    bodies = tuple(
        Carried(kind=kind_of(body), data=msgspec.json.encode(body)) for body in request.proposals
    )
    return msgspec.msgpack.encode(OwnerAsk(key=key, bodies=bodies, beside=beside))


def decode_ask(raw: bytes) -> tuple[Request, str, tuple[SideWrite, ...]]:
    """Return the request that travelled, its key, and the changes beside it.

    Raises
    ------
    BadInput
        If it is not a request.
    CallroomError
        If it is not even of the right form.
    """
    try:
        ask = msgspec.msgpack.decode(raw, type=OwnerAsk)
    except msgspec.MsgspecError as fault:
        raise CallroomError("request.unreadable", kind="", fault=str(fault)) from fault
    bodies: tuple[Asked, ...] = tuple(body_of(carried.kind, carried.data) for carried in ask.bodies)
    return Request(proposals=bodies), ask.key, ask.beside
