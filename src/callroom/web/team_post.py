"""Which captains a letter goes to, what it says to each, and putting it into the outbox."""

import asyncio
import hashlib
from collections.abc import Mapping

import msgspec

from callroom.model import Refusal, State, Team
from callroom.model.person import Person
from callroom.model.post import LetterKind, OutLetter
from callroom.views.page_head import public_at
from callroom.views.paying import payable
from callroom.views.team_letters import Letter, LetterText, letter_text
from callroom.views.teams_open import TeamOpen, captain_of, teams_open
from callroom.web.house import Asked, House
from callroom.web.teams_desk import team_of

LETTERS: tuple[LetterKind, ...] = ("confirmation", "reminder", "day")
WHOM = ("all", "open", "unpaid", "waiting")


class Mailing(msgspec.Struct, frozen=True, kw_only=True):
    """A letter to several teams: of which kind, to whom, with which words of the director's."""

    kind: LetterKind
    whom: str
    own_words: str


class Recipient(msgspec.Struct, frozen=True, kw_only=True):
    """A team that a letter can go to: its captain by id, and what is open about it."""

    team: Team
    person: str
    captain: Person
    open: TeamOpen


def recipients(
    state: State, people: Mapping[str, Person], kind: LetterKind, whom: str
) -> tuple[Recipient, ...]:
    """Return to which teams a letter goes.

    `whom` is ``all``, those with something ``open``, ``unpaid``, ``waiting``, or a division's id.
    """
    found = []
    for one in teams_open(state, people):
        fits = {
            "all": not one.waiting,
            "open": not one.waiting and not one.nothing,
            "unpaid": one.owed > 0,
            "waiting": one.waiting,
        }.get(whom, one.division == whom and not one.waiting)
        if fits and not (kind == "day" and one.waiting):
            team = team_of(state, one.team)
            person, captain = captain_of(team, people)
            found.append(Recipient(team=team, person=person, captain=captain, open=one))
    return tuple(found)


def text_for(house: House, one: Recipient, mailing: Mailing, *, link: str, base: str) -> LetterText:
    """Return what a letter says to one team."""
    state = house.state
    letter = Letter(
        kind=mailing.kind,
        team=one.team,
        captain=one.captain,
        open=one.open,
        pay=payable(state, one.team, house.book.paying.get()),
        link=link,
        day_link=f"{base}/team/{one.team.id}" if base else "",
        own_words=mailing.own_words,
    )
    audience = public_at(state, house.book.now_ms())
    return letter_text(state, letter, audience, house.words)


def link_base(house: House, request: Asked, *, safe: bool) -> str:
    """Return the beginning of addresses in letters, as teams reach them; empty: none is known.

    `safe`: only over TLS, as a team's own page needs it.
    """
    event = house.state.event
    address = (event.address if event is not None else "").rstrip("/")
    own = str(request.base_url).rstrip("/")
    found = [one for one in (address, own) if one.startswith("https://")]
    if found:
        return found[0]
    return "" if safe else address


def new_link(house: House, request: Asked, team: str) -> str:
    """Return one more link for a team, or nothing where it could not be opened; writes to disk."""
    base = link_base(house, request, safe=True)
    return f"{base}/enter/team/{house.book.links.add(team)}" if base else ""


async def put_in(
    house: House, request: Asked, found: tuple[Recipient, ...], mailing: Mailing, key: str
) -> int:
    """Put a letter to each that can be written to into the outbox, and set out; how many are new.

    Raises
    ------
    Refusal
        If no server is set, this is a rehearsal, or nobody can be written to.
    """
    post = house.book.post
    if house.state.rehearsal:
        raise Refusal("post.rehearsal")
    if post.server is None:
        raise Refusal("post.no_server")
    reached = [one for one in found if one.captain.email]
    if not reached:
        raise Refusal("post.nobody")
    base = link_base(house, request, safe=False)

    def write() -> int:
        known = {one.id for one in post.letters()}
        letters = []
        for one in reached:
            id_ = letter_id(key, one.team.id)
            if id_ not in known:
                link = new_link(house, request, one.team.id)
                text = text_for(house, one, mailing, link=link, base=base)
                letters.append((one.person, out_letter(house, id_, one, mailing.kind, text)))
        return post.put_in(letters)

    count = await asyncio.to_thread(write)
    house.letters.go()
    return count


async def confirm(
    house: House, request: Asked, team_id: str, link: str, occasion: str = "entered"
) -> None:
    """Write to a team that has just entered or was accepted, if the director wants that; once.

    Without a `link` the letter gets one of its own.
    """
    post = house.book.post
    server = post.server
    if server is None or not server.confirms or house.state.rehearsal:
        return
    people = await asyncio.to_thread(house.book.people)
    found = [*recipients(house.state, people, "confirmation", "all"),
             *recipients(house.state, people, "confirmation", "waiting")]  # fmt: skip
    one = next((one for one in found if one.team.id == team_id and one.captain.email), None)
    if one is None:
        return
    own = link if link_base(house, request, safe=True) else ""
    if not link:
        own = await asyncio.to_thread(new_link, house, request, team_id)
    base = link_base(house, request, safe=False)
    mailing = Mailing(kind="confirmation", whom="all", own_words="")
    text = text_for(house, one, mailing, link=own, base=base)
    letter = out_letter(house, letter_id(occasion, team_id), one, "confirmation", text)
    await asyncio.to_thread(post.put_in, [(one.person, letter)])
    house.letters.go()


def out_letter(
    house: House, id_: str, one: Recipient, kind: LetterKind, text: LetterText
) -> OutLetter:
    """Return a letter for the outbox."""
    return OutLetter(
        id=id_,
        team=one.team.id,
        kind=kind,
        to=one.captain.email,
        subject=text.subject,
        body=text.body,
        made_ms=house.book.now_ms(),
        generation=house.state.generation,
    )


def letter_id(key: str, team: str) -> str:
    """Return the id of a letter to a team; the same form gives the same."""
    return hashlib.sha256(f"{key}/{team}".encode()).hexdigest()[:24]
