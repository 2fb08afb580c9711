"""Doors: who may come in, with what. The director by passphrase, crew by a code used once.

What is kept is in the book's `secrets`: the hash of the passphrase, of every join code and
of every token, never the thing itself. A stolen book opens no door.
"""

import asyncio
import hashlib
import hmac
import logging
import secrets
from collections.abc import Mapping
from typing import Protocol

import msgspec
from argon2 import PasswordHasher
from argon2.exceptions import VerifyMismatchError

from callroom.actions.day import join_device
from callroom.actions.request import Request
from callroom.bootstrap.clocks import Clock
from callroom.bootstrap.guesses import Guesses
from callroom.bootstrap.plain_words import is_plain
from callroom.model import Actor, Refusal, Role, State
from callroom.views.codes import ALPHABET, check_character, spaced, tidied

CODE_BODY = 7
CODE_LIFE_MS = 24 * 3600 * 1000
SESSION_LIFE_MS = 16 * 3600 * 1000
# OWASP ASVS 5.0, 6.2.1: at least 8 characters, 15 advised; 6.2.9: at least 64 allowed.
LEAST_PASSPHRASE = 10
MOST_PASSPHRASE = 200


_log = logging.getLogger("callroom.security")

DOORKEEPER = Actor(role="director", device="doors", name="doors")


class SecretShelf(Protocol):
    """The book's secrets: small values under a name."""

    def get(self, row_id: str, /) -> bytes | None:
        """Return a value, or None."""

    def put(self, row_id: str, value: bytes, /) -> None:
        """Store a value; returns when it is on disk."""

    def delete(self, row_id: str, /) -> None:
        """Remove a value."""

    def all(self, prefix: str, /) -> Mapping[str, bytes]:
        """Return the values whose name begins so, by name."""

    def take(self, row_id: str, /) -> bytes | None:
        """Remove a value and return it; of all who take it one gets it, the others None."""


class Hall(Protocol):
    """What the doors need of the open book."""

    @property
    def state(self) -> State:
        """The State as published."""

    async def ask(self, actor: Actor, request: Request, *, key: str) -> object:
        """Have a request decided and stored."""


class JoinCode(msgspec.Struct, frozen=True, kw_only=True):
    """A code that grants one role on one device until it is used or expires."""

    role: Role
    label: str
    expires_ms: int


class Holder(msgspec.Struct, frozen=True, kw_only=True):
    """Who holds a token."""

    role: Role
    device: str
    name: str
    expires_ms: int


class Doors:
    """Sign-in and joining for one book."""

    def __init__(self, hall: Hall, shelf: SecretShelf, clock: Clock) -> None:
        """Guard `hall` with what `shelf` keeps."""
        self._hall = hall
        self._shelf = shelf
        self._clock = clock
        self._hasher = PasswordHasher()
        # One check takes 64 MiB and a fifth of a second: two at a time at most.
        self._hashing = asyncio.Semaphore(2)
        self._guesses = Guesses(clock)
        self._holders: dict[str, Holder] = {}

    def has_passphrase(self) -> bool:
        """Whether the director has set a passphrase."""
        return self._shelf.get("passphrase") is not None

    async def set_passphrase(self, text: str) -> None:
        """Set the director's passphrase.

        Raises
        ------
        Refusal
            If it is too short, too long, or among the first that anybody would try.
        """
        if not LEAST_PASSPHRASE <= len(text) <= MOST_PASSPHRASE:
            raise Refusal("passphrase.length", least=LEAST_PASSPHRASE, most=MOST_PASSPHRASE)
        event = self._hall.state.event
        if is_plain(text, () if event is None else (event.name, event.venue, event.cause)):
            raise Refusal("passphrase.plain")
        async with self._hashing:
            hashed = await asyncio.to_thread(self._hasher.hash, text)
        await asyncio.to_thread(self._shelf.put, "passphrase", hashed.encode())

    async def sign_in(self, text: str, origin: str) -> str:
        """Return a session token for the director.

        Parameters
        ----------
        origin
            Where the try comes from; wrong tries are counted for it and for the book.

        Raises
        ------
        Refusal
            If the passphrase is wrong, not set, or guessed too often (says how long to wait).
        """
        self._guesses.need_patience("passphrase", origin)
        kept = self._shelf.get("passphrase")
        if kept is None:
            raise Refusal("passphrase.none")
        async with self._hashing:
            right = await asyncio.to_thread(self._verify, kept.decode(), text[:MOST_PASSPHRASE])
        if not right:
            self._guesses.note_wrong("passphrase", origin)
            _log.warning("a wrong passphrase from %s", origin)
            raise Refusal("passphrase.wrong")
        self._guesses.forget("passphrase", origin)
        _log.info("the director signed in from %s", origin)
        return await self._new_token("director", "director-" + secrets.token_hex(4), "director")

    def _verify(self, hashed: str, text: str) -> bool:
        try:
            return self._hasher.verify(hashed, text)
        except VerifyMismatchError:
            return False

    def make_code(self, role: Role, label: str) -> str:
        """Return a new code that grants `role` to one device."""
        body = "".join(secrets.choice(ALPHABET) for _ in range(CODE_BODY))
        code = body + check_character(body)
        kept = JoinCode(role=role, label=label[:80], expires_ms=self._clock.now_ms() + CODE_LIFE_MS)
        self._shelf.put(f"code/{_hashed(code)}", msgspec.json.encode(kept))
        return spaced(code)

    async def join(self, code: str, label: str, origin: str) -> tuple[str, str]:
        """Let a device in with a code; returns its id and its token.

        Raises
        ------
        BadCode
            If the code was mistyped.
        Refusal
            If the code is unknown, used or expired, or codes were guessed too often.
        """
        row_id = f"code/{_hashed(tidied(code))}"
        self._guesses.need_patience("code", origin)
        # Taken before anything is granted: two phones with one code cannot both get in.
        kept = await asyncio.to_thread(self._shelf.take, row_id)
        if kept is None:
            self._guesses.note_wrong("code", origin)
            _log.warning("a join code that lets nobody in, from %s", origin)
            raise Refusal("code.used_or_unknown")
        grant = msgspec.json.decode(kept, type=JoinCode)
        if grant.expires_ms < self._clock.now_ms():
            raise Refusal("code.expired")
        return await self._admit(grant, label)

    async def _admit(self, grant: JoinCode, label: str) -> tuple[str, str]:
        device = "device-" + secrets.token_hex(6)
        # The journal cannot forget, so what people type about themselves stays out of it.
        request = join_device(device, grant.role)
        await self._hall.ask(DOORKEEPER, request, key=f"join-{device}")
        typed = label.strip()[:80] or grant.label
        if typed:
            await asyncio.to_thread(self._shelf.put, f"label/{device}", typed.encode())
        token = await self._new_token(grant.role, device, f"{grant.role} {device}")
        return device, token

    def label_of(self, device: str) -> str:
        """Return what was typed about a device, by its holder or with its code; or nothing."""
        typed = self._shelf.get(f"label/{device}")
        return typed.decode() if typed is not None else ""

    def proof_of(self, token: str) -> str:
        """Return what a pad carries to another address; the token cannot be told from it."""
        return hmac.new(token.encode(), b"callroom carry", hashlib.sha256).hexdigest()

    async def take_over(self, proof: str, origin: str) -> str:
        """Return a new token for the device whose pad carries `proof`; a proof works once.

        A pad brings it from another address of the same book, where the browser has no token.

        Raises
        ------
        Refusal
            If nobody has that proof, or proofs were guessed too often.
        """
        self._guesses.need_patience("proof", origin)
        kept = await asyncio.to_thread(self._shelf.take, f"proof/{_hashed(proof)}")
        if kept is None:
            self._guesses.note_wrong("proof", origin)
            raise Refusal("proof.used_or_unknown")
        holder = msgspec.json.decode(kept, type=Holder)
        return await self._new_token(holder.role, holder.device, holder.name)

    async def _new_token(self, role: Role, device: str, name: str) -> str:
        token = secrets.token_urlsafe(32)
        holder = Holder(
            role=role, device=device, name=name, expires_ms=self._clock.now_ms() + SESSION_LIFE_MS
        )
        row_id = f"token/{_hashed(token)}"
        await asyncio.to_thread(self._shelf.put, row_id, msgspec.json.encode(holder))
        if role != "director":
            proof_id = f"proof/{_hashed(self.proof_of(token))}"
            await asyncio.to_thread(self._shelf.put, proof_id, msgspec.json.encode(holder))
        self._holders[row_id] = holder
        return token

    def holder(self, token: str) -> Actor | None:
        """Return who holds a token, or None if nobody does any more.

        A device that lost its role is still returned: it may hand in what it has seen.
        """
        row_id = f"token/{_hashed(token)}"
        holder = self._holders.get(row_id)
        if holder is None:
            kept = self._shelf.get(row_id)
            if kept is None:
                return None
            holder = self._holders[row_id] = msgspec.json.decode(kept, type=Holder)
        if holder.role == "director" and holder.expires_ms < self._clock.now_ms():
            return None
        return Actor(role=holder.role, device=holder.device, name=holder.name)

    def look_again(self) -> None:
        """Believe no token without looking: another process may have ended its session."""
        self._holders.clear()

    def end_other_directors(self, token: str) -> int:
        """End every session of a director but the one of `token`; return how many."""
        mine, ended = f"token/{_hashed(token)}", 0
        for row_id, kept in self._shelf.all("token/").items():
            director = msgspec.json.decode(kept, type=Holder).role == "director"
            if director and row_id != mine:
                self._holders.pop(row_id, None)
                self._shelf.delete(row_id)
                ended += 1
        return ended

    def drop_codes(self, role: Role | None = None) -> int:
        """Let no code that was not used yet open anything, of one role or of all; say how many."""
        dropped = 0
        for row_id, kept in self._shelf.all("code/").items():
            if role is None or msgspec.json.decode(kept, type=JoinCode).role == role:
                self._shelf.delete(row_id)
                dropped += 1
        return dropped

    def leave(self, token: str) -> None:
        """End a session; its token opens nothing from now on."""
        row_id = f"token/{_hashed(token)}"
        self._holders.pop(row_id, None)
        self._shelf.delete(row_id)


def _hashed(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
