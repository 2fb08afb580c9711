"""Thanks to the crew: a letter for each, seen first, then sent or copied out."""

import asyncio
from typing import Any, ClassVar
from urllib.parse import quote, urlencode

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.model import CallroomError, Finding, Refusal
from callroom.model.post import OutLetter, PostServer
from callroom.views.crew_list import CrewLine, crew_lines
from callroom.views.crew_thanks import thanks_text
from callroom.views.team_letters import LetterText
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_event, new_key
from callroom.web.pages import Page
from callroom.web.routes.crew import need_private
from callroom.web.team_post import letter_id
from callroom.web.visitor import Visitor

_OCCASION = "thanks"
_MOST_WORDS = 2_000


class CrewThanksPage(Page, frozen=True, kw_only=True):
    """``/director/crew/thanks``: whom to thank, and the letter to one of them.

    `before` are those whose letter is in the outbox already, or was sent; `mailto` opens the
    letter in a mail program (empty: no address).
    """

    template: ClassVar[str] = "crew_thanks.html"
    lines: tuple[CrewLine, ...]
    before: frozenset[str]
    shown: CrewLine | None
    text: LetterText | None
    mailto: str
    own_words: str
    server: PostServer | None
    rehearsal: bool
    refused: tuple[Finding, ...]
    sent: bool
    key: str


@get("/director/crew/thanks")
async def show_thanks(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    person: FromQuery[str] = "",
    words: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """The letter to `person` with the director's own `words`, and whom it goes to."""
    need_private(visitor)
    own = words.strip()[:_MOST_WORDS]
    return await _page(request, house, visitor, person, own, sent=done == "send")


@post("/director/crew/thanks", status_code=200)
async def send_thanks(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Put the letters to those ticked into the outbox; nobody is thanked twice."""
    need_private(visitor)
    own = form.text("words")
    people = await asyncio.to_thread(house.book.people)
    lines = await asyncio.to_thread(crew_lines, house.state, people)
    chosen = tuple(one for one in lines if form.ticked(f"to-{one.member.person}"))
    try:
        await _put_in(house, chosen, own)
    except CallroomError as fault:
        return await _page(request, house, visitor, "", own, (fault.finding(),))
    return Redirect(
        f"/director/crew/thanks?{urlencode({'done': 'send', 'words': own})}", status_code=303
    )


async def _put_in(house: House, chosen: tuple[CrewLine, ...], own_words: str) -> None:
    event, office = need_event(house.state), house.book.post
    if house.state.rehearsal:
        raise Refusal("post.rehearsal")
    if office.server is None:
        raise Refusal("post.no_server")
    reached = [one for one in chosen if one.person.email]
    if not reached:
        raise Refusal("post.nobody")
    letters = []
    for one in reached:
        text = thanks_text(event, one, own_words, house.words)
        letter = OutLetter(
            id=letter_id(_OCCASION, one.member.person),
            team="",
            kind="thanks",
            to=one.person.email,
            subject=text.subject,
            body=text.body,
            made_ms=house.book.now_ms(),
            generation=house.state.generation,
        )
        letters.append((one.member.person, letter))
    await asyncio.to_thread(office.put_in, letters)
    house.letters.go()


async def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    person: str,
    own_words: str,
    refused: tuple[Finding, ...] = (),
    *,
    sent: bool = False,
) -> Response[str]:
    event = need_event(house.state)
    people = await asyncio.to_thread(house.book.people)
    lines = await asyncio.to_thread(crew_lines, house.state, people)
    known = {one.id for one in await asyncio.to_thread(house.book.post.letters)}
    shown = next((one for one in lines if one.member.person == person), None)
    if shown is None and lines:
        shown = next((one for one in lines if one.duties), lines[0])
    text = thanks_text(event, shown, own_words, house.words) if shown is not None else None
    page = CrewThanksPage(
        lines=lines,
        before=frozenset(
            one.member.person for one in lines if letter_id(_OCCASION, one.member.person) in known
        ),
        shown=shown,
        text=text,
        mailto=_mailto(shown, text) if shown is not None and text is not None else "",
        own_words=own_words,
        server=await asyncio.to_thread(lambda: house.book.post.server),
        rehearsal=house.state.rehearsal,
        refused=refused,
        sent=sent,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused else 200)


def _mailto(one: CrewLine, text: LetterText) -> str:
    if not one.person.email:
        return ""
    body = text.body.replace("\n", "\r\n")
    return f"mailto:{quote(one.person.email)}?subject={quote(text.subject)}&body={quote(body)}"


HANDLERS = (show_thanks, send_thanks)
