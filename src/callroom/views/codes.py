"""The short code on a card: which team's attempt at which workout it stands for.

A code is seven characters and a check character, printed in two groups of four
(``7KQF-2MXR``) beside a QR code of the same address.

What a code rests on is only what a card *is*: the event, the workout, the team, the attempt
and the amendment, by their ids and numbers, digested. It rests on no position in a list and on no plan, so adding
or withdrawing teams, publishing another plan or moving a lane never changes a code that is
already on paper. Nothing needs to be stored either: a code is read by comparing it with the
codes of the cards this book has.

Seven characters of 29 are 17 thousand million codes for some hundred cards, so a code that
was mistyped past its check character almost surely stands for no card, rather than for
another team's. Two cards of one book share a code about once in 800,000 books of 210 cards and
once in 6,000 of 2,400; such a code is refused with both cards named.
"""

import hashlib
import unicodedata
from collections.abc import Iterable
from urllib.parse import quote

import msgspec

from callroom.model import CallroomError, State

# Neither of 0/O nor of 1/I/L; of S/5 and U/V the more frequent twin only. 29 is a prime.
ALPHABET = "23456789ABCDEFGHJKMNPQRTVWXYZ"
_BODY = 7
_READ_AS = str.maketrans({"S": "5", "U": "V"})
# Different weights, none a multiple of 29: any one wrong character and any two characters
# exchanged, neighbours or not, change the sum. The check character's own weight is 1.
_WEIGHTS = range(2, 2 + _BODY)


class CardRef(msgspec.Struct, frozen=True, kw_only=True, order=True):
    """What a card stands for: one team's attempt at one workout, all parts of it.

    `amendment` is the number of the amendment by which the card has the workout (0: as it was
    first told), so that a card from before an amendment has another code than one after it.
    """

    workout: str
    team: str
    attempt: int = 1
    amendment: int = 0


class BadCode(CallroomError):
    """A typed or scanned code that stands for no card.

    Rules: ``code.unreadable`` (facts `given`, `wrong`: the first sign no code has, empty if
    the length is wrong), ``code.mistyped`` (`given`), ``code.unknown`` (`given`),
    ``code.of_rehearsal`` (`given`, `workout`, `team`: a rehearsal's card in the real book),
    ``code.ambiguous`` (`given`, `cards`).
    """


def check_character(body: str) -> str:
    """Return the character that makes the weighted sum of `body` and itself 0 modulo 29."""
    weighed = zip(_WEIGHTS, body, strict=True)
    total = sum(weight * ALPHABET.index(sign) for weight, sign in weighed)
    return ALPHABET[-total % len(ALPHABET)]


def card_code(event_id: str, ref: CardRef, *, rehearsal: bool = False) -> str:
    """Return the eight characters of a card's code, the last being the check character.

    Cards of a rehearsal have codes of their own, so that a card left over from it cannot
    open a form of the real day.
    """
    amended = [ref.amendment] if ref.amendment else []
    said = msgspec.json.encode([event_id, ref.workout, ref.team, ref.attempt, rehearsal, *amended])
    number = int.from_bytes(hashlib.sha256(said).digest(), "big")
    body = ""
    for _ in range(_BODY):
        number, sign = divmod(number, len(ALPHABET))
        body += ALPHABET[sign]
    return body + check_character(body)


def spaced(code: str) -> str:
    """Return a code as printed, in two groups of four."""
    return f"{code[:4]}-{code[4:]}"


def card_address(address: str, code: str) -> str:
    """Return what a card's QR code says: the entry form's address, or the bare code.

    Without an address of the event the QR code holds the code alone, which a hand scanner
    at the desk types just the same.
    """
    return f"{address.rstrip('/')}/c/{code}" if address else code


def team_address(address: str, team: str) -> str:
    """Return what the QR code of a team's sheet says; empty without an address of the event."""
    return f"{address.rstrip('/')}/check-in/{quote(team, safe='')}" if address else ""


def cards_in(state: State) -> tuple[CardRef, ...]:
    """Return every card of the book: each team at each workout, and each further attempt.

    Each is as the workout now stands; cards from before an amendment are `old_cards_in`.
    """
    if state.event is None:
        return ()
    numbers = {one.id: state.amendment_number(one.id) for one in state.event.workouts}
    first = (
        CardRef(workout=workout, team=team, amendment=number)
        for workout, number in numbers.items()
        for team in state.teams
    )
    further = (
        CardRef(
            workout=rerun.workout,
            team=rerun.team,
            attempt=rerun.attempt,
            amendment=numbers.get(rerun.workout, 0),
        )
        for reruns in state.reruns.values()
        for rerun in reruns
    )
    return (*first, *further)


def old_cards_in(state: State) -> tuple[CardRef, ...]:
    """Return every card that was right before its workout was amended."""
    earlier: dict[str, set[int]] = {}
    for amendment in state.amendments.values():
        earlier.setdefault(amendment.workout, {0}).add(amendment.number)
    return tuple(
        msgspec.structs.replace(card, amendment=number)
        for card in cards_in(state)
        for number in sorted(earlier.get(card.workout, ()))
        if number < card.amendment
    )


def tidied(text: str) -> str:
    """Return the eight characters meant by `text`: typed anyhow, or a scanned address.

    Raises
    ------
    BadCode
        If it cannot be a code (``code.unreadable``) or fails its check (``code.mistyped``).
    """
    last = text.rstrip().rsplit("/c/", 1)[-1].upper()
    plain = unicodedata.normalize("NFKC", last)
    signs = "".join(sign for sign in plain if not sign.isspace() and sign not in "-–—_.·")
    signs = signs.translate(_READ_AS)
    wrong = next((sign for sign in signs if sign not in ALPHABET), "")
    if wrong or len(signs) != _BODY + 1:
        raise BadCode("code.unreadable", given=text[:80], wrong=wrong)
    if check_character(signs[:_BODY]) != signs[_BODY]:
        raise BadCode("code.mistyped", given=spaced(signs))
    return signs


def read_code(text: str, state: State) -> CardRef:
    """Return the card that `text` stands for in this book; it may be from before an amendment.

    Raises
    ------
    BadCode
        If there is none, or not exactly one.
    """
    code = tidied(text)
    event_id = state.event.id if state.event is not None else ""
    cards = (*cards_in(state), *old_cards_in(state))
    # A practice run may be played with the day's own cards, never the other way round.
    found = _answering(code, event_id, cards, rehearsal=False)
    rehearsed = _answering(code, event_id, cards, rehearsal=True)
    if rehearsed and not found and not state.rehearsal:
        card = rehearsed[0]
        raise BadCode("code.of_rehearsal", given=spaced(code), workout=card.workout, team=card.team)
    if state.rehearsal:
        found += rehearsed
    if not found:
        raise BadCode("code.unknown", given=spaced(code))
    if len(found) > 1:
        named = ", ".join(f"{card.team}/{card.workout}" for card in found)
        raise BadCode("code.ambiguous", given=spaced(code), cards=named)
    return found[0]


def _answering(
    code: str, event_id: str, cards: Iterable[CardRef], *, rehearsal: bool
) -> list[CardRef]:
    return [card for card in cards if card_code(event_id, card, rehearsal=rehearsal) == code]
