"""What is personal in a book: taken away by whom it is about, erased when asked or due."""

from typing import Protocol

import msgspec

from callroom.actions.request import Request, propose
from callroom.journal import META, NOTES, OUTBOX, PEOPLE, Erasure
from callroom.journal.entries import bodies
from callroom.journal.store import Store
from callroom.model import Actor, State, from_milliseconds, wall_time
from callroom.model.person import EVERYONE
from callroom.model.post import OutLetter
from callroom.views.account_book import people_in
from callroom.views.held import erase_on

_DONE = "erased/"

# A laptop whose clock is years ahead must not erase a book that was written yesterday.
_TRUST_A_CLOCK_MS = 400 * 86_400_000

_BY_ITSELF = Actor(role="director", device="keeper", name="Callroom, by itself")


class Asking(Protocol):
    """Where decisions are asked for and the book's store is."""

    store: Store[State]

    @property
    def state(self) -> State:
        """The State of the last published batch."""

    def now_ms(self) -> int:
        """Return the time by the book's clock [ms since 1970, UTC]."""

    def ask_now(self, actor: Actor, request: Request, *, key: str) -> object:
        """Have a request decided and stored, or raise the refusal."""


class PeopleKeeping:
    """The people of one open book. What is to be erased is decided first and then done.

    So it is never half done: what was decided before the power went is done at the next opening.
    """

    def __init__(self, book: Asking) -> None:
        """Keep the people of `book`."""
        self._book = book

    def file(self, person: str) -> bytes:
        """Return everything the book holds of a person, as JSON; empty if it knows nobody so."""
        book = self._book
        known = book.store.side(PEOPLE).get(person)
        if known is None:
            return b""
        notes = book.store.side(NOTES).all(f"{person}/")
        event = book.state.event
        whole = {
            "event": event.name if event is not None else "",
            "id": person,
            "person": known,
            "teams": _teams_of(book.state, person),
            "crew": person in book.state.crew,
            "offered_to_help": person in book.state.offers,
            "letters": [
                {"subject": letter.subject, "text": letter.body, "state": letter.state}
                for row in book.store.side(OUTBOX).all(f"{person}/").values()
                for letter in (msgspec.json.decode(row, type=OutLetter),)
            ],
            "notes": [note for _, note in sorted(notes.items())],
        }
        return msgspec.json.format(msgspec.json.encode(whole), indent=2)

    def erase(self, actor: Actor, person: str, key: str) -> Erasure:
        """Erase a person, down to the bytes; CallroomError if the actor may not."""
        self._book.ask_now(actor, propose(bodies.PersonErased(person=person)), key=key)
        return self._carry_out(person)

    def erase_everyone(self, actor: Actor, key: str, *, due: bool = False) -> Erasure:
        """Erase everything personal but of those the accounts speak of."""
        self._book.ask_now(actor, propose(bodies.EveryoneErased(due=due)), key=key)
        return self._carry_out(EVERYONE)

    def finish(self) -> None:
        """Do what was decided and not done, and erase everybody once that is due."""
        book = self._book
        done = book.store.side(META).all(_DONE)
        for person, seq in sorted(book.state.erased.items(), key=lambda one: one[1]):
            if done.get(f"{_DONE}{person}") != str(seq):
                self._carry_out(person)
        if is_due(book.state, book.now_ms()):
            self.erase_everyone(_BY_ITSELF, f"due-{book.state.seq}", due=True)

    def _carry_out(self, person: str) -> Erasure:
        store, seq = self._book.store, self._book.state.erased[person]
        if person == EVERYONE:
            erased = store.erase_everyone(people_in(self._book.state))
        else:
            erased = store.erase(person)
        if erased.complete:
            store.side(META).put(f"{_DONE}{person}", str(seq))
        return erased


def is_due(state: State, now_ms: int) -> bool:
    """Whether everything personal must go now; never on the word of a clock that ran away.

    The people of an invented event are nobody: they stay.
    """
    event = state.event
    if event is None or event.invented or EVERYONE in state.erased:
        return False
    if now_ms - state.at_ms > _TRUST_A_CLOCK_MS:
        return False
    day = erase_on(event)
    return day is not None and wall_time(from_milliseconds(now_ms), event.zone).date() > day


def _teams_of(state: State, person: str) -> list[str]:
    waiting = {id_: one.team for id_, one in state.enrolments.items()}
    return [
        team.id
        for team in (waiting | dict(state.teams)).values()
        if any(athlete.person == person for athlete in team.athletes)
    ]
