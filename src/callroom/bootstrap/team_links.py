"""A team's own link: whoever has it sees and changes that team. Only its hash is kept."""

import hashlib
import hmac
import secrets
from collections.abc import Mapping
from typing import Protocol

from callroom.journal import PEOPLE, SECRETS, SideWrite
from callroom.model.person import Person

_LINK = "team-link/"


class SecretShelf(Protocol):
    """The book's secrets: small values under a name."""

    def get(self, row_id: str, /) -> bytes | None:
        """Return a value, or None."""

    def put(self, row_id: str, value: bytes, /) -> None:
        """Store a value; returns when it is on disk."""

    def delete(self, row_id: str, /) -> None:
        """Remove a value."""

    def all(self, prefix: str, /) -> Mapping[str, bytes]:
        """Return the values whose names begin so."""


class TeamLinks:
    """The links of one book's teams. A stolen book opens no team."""

    def __init__(self, shelf: SecretShelf) -> None:
        """Keep hashes of links on `shelf`."""
        self._shelf = shelf

    def team_of(self, token: str) -> str:
        """Return whose link it is; empty if nobody's, or if it was revoked."""
        kept = self._shelf.get(f"{_LINK}{_hashed(token)}") if token else None
        return kept.decode() if kept is not None else ""

    def renew(self, team: str) -> str:
        """Return a new link's token for a team; those it had open nothing any more."""
        self.revoke(team)
        return self.add(team)

    def add(self, team: str) -> str:
        """Return one more link's token for a team; a letter carries it."""
        token = secrets.token_urlsafe(24)
        self._shelf.put(f"{_LINK}{_hashed(token)}", team.encode())
        return token

    def revoke(self, team: str) -> None:
        """Let every link of a team open nothing any more."""
        for row_id in self._rows_of(team):
            self._shelf.delete(row_id)

    def has_link(self, team: str) -> bool:
        """Whether some link opens a team."""
        return bool(self._rows_of(team))

    def _rows_of(self, team: str) -> list[str]:
        wanted = team.encode()
        return [row_id for row_id, kept in self._shelf.all(_LINK).items() if kept == wanted]


def token_for(form_key: str) -> str:
    """Return the token of the link that the form with this key gives its team.

    It rests on the key alone, which the browser holds and the book never sees plain, so a form
    that is sent twice leads to the same team.
    """
    return hmac.new(form_key.encode(), b"callroom team link", hashlib.sha256).hexdigest()[:40]


def journal_key(form_key: str) -> str:
    """Return what stands in the journal for a form's key; no link can be made from it."""
    return f"enrol-{_hashed(form_key)[:24]}"


def person_id(form_key: str, place: str) -> str:
    """Return the id of who stands at a place of a form; the same form gives the same."""
    return "E" + _hashed(f"{form_key}/{place}")[:10]


def beside_link(token: str, team: str) -> SideWrite:
    """Return the change that lets a link open a team."""
    return SECRETS.put(f"{_LINK}{_hashed(token)}", team.encode())


def beside_people(
    people: Mapping[str, Person], gone: tuple[str, ...] = ()
) -> tuple[SideWrite, ...]:
    """Return the changes that keep people under their ids, and let go of those who are `gone`."""
    kept = tuple(PEOPLE.put(id_, person) for id_, person in people.items())
    return (*kept, *(PEOPLE.remove(id_) for id_ in gone))


def _hashed(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()
