"""Letters to captains: seen first, then sent through the director's mail server, or copied out."""

import asyncio
import secrets
from typing import Any, ClassVar, get_args
from urllib.parse import quote

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.model import BadInput, CallroomError, Event, Finding, Refusal
from callroom.model.post import LetterKind, OutLetter, PostServer, Security
from callroom.views.team_letters import LetterText
from callroom.web.errors import Unreadable, findings_of
from callroom.web.forms.posted import Posted
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.team_post import (
    LETTERS,
    WHOM,
    Mailing,
    Recipient,
    letter_id,
    link_base,
    new_link,
    put_in,
    recipients,
    text_for,
)
from callroom.web.visitor import Visitor

_MOST_SHOWN = 300
_DEEDS = frozenset({"send", "copy", "again", "go", "drop"})
_MOST_WORDS = 2_000


class LettersPage(Page, frozen=True, kw_only=True):
    """``/director/letters``: a letter to be seen and sent, and the outbox.

    Attributes
    ----------
    found, before
        Whom it goes to; the teams that were sent one of this kind already, or have it waiting.
    shown, text
        The team whose letter is shown, and the letter; None: nobody, or not yet possible.
    copied, mailto
        The letter as it is to be copied, with the team's link; a link that opens a mail program.
    base
        Where teams reach their own pages; empty: letters have no link to them.
    """

    template: ClassVar[str] = "letters.html"
    event: Event
    mailing: Mailing
    found: tuple[Recipient, ...]
    before: frozenset[str]
    shown: Recipient | None
    text: LetterText | None
    copied: bool
    mailto: str
    base: str
    server: PostServer | None
    rehearsal: bool
    outbox: tuple[OutLetter, ...]
    refused: tuple[Finding, ...]
    done: str
    key: str


class PostServerPage(Page, frozen=True, kw_only=True):
    """``/director/letters/server``: the mail server; the password is never shown again."""

    template: ClassVar[str] = "post_server.html"
    server: PostServer | None
    texts: dict[str, str]
    faults: dict[str, Finding]
    refused: tuple[Finding, ...]
    done: str
    key: str


@get("/director/letters")
async def show_letters(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    kind: FromQuery[str] = "reminder",
    whom: FromQuery[str] = "",
    team: FromQuery[str] = "",
    words: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """A letter as it would go out, whom it goes to, and what became of those sent."""
    need_director(visitor)
    mailing = _mailing(house, kind, whom, words)
    return await _page(request, house, visitor, mailing, team=team, done=done)


@post("/director/letters", status_code=200)
async def act(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Send a letter to all it goes to, copy one out, or see to one in the outbox."""
    need_director(visitor)
    mailing = _mailing(house, form.text("kind"), form.text("whom"), form.text("words"))
    do, letter = form.text("do"), form.text("letter")
    book_post = house.book.post
    if do not in _DEEDS:
        raise Unreadable("web.unknown_button", given=do[:80])
    try:
        if do == "send":
            found = await _found(house, mailing)
            chosen = tuple(one for one in found if form.ticked(f"to-{one.team.id}"))
            await put_in(house, request, chosen, mailing, form.text("key") or new_key())
        elif do == "copy":
            return await _page(request, house, visitor, mailing, team=form.text("team"), copy=True)
        elif do == "again":
            await asyncio.to_thread(book_post.again, letter)
            await asyncio.to_thread(book_post.send_waiting)
        elif do == "go":
            await asyncio.to_thread(book_post.send_waiting)
        elif do == "drop":
            await asyncio.to_thread(book_post.take_out, letter)
    except CallroomError as fault:
        return await _page(request, house, visitor, mailing, refused=findings_of(fault))
    kept = f"kind={mailing.kind}&whom={quote(mailing.whom)}"
    return Redirect(f"/director/letters?{kept}&done={quote(do)}", status_code=303)


@get("/director/letters/server")
async def show_server(
    request: Asked, house: InHouse, visitor: ByVisitor, done: FromQuery[str] = ""
) -> Response[str]:
    """The mail server that letters go through."""
    need_director(visitor)
    server = await asyncio.to_thread(lambda: house.book.post.server)
    page = PostServerPage(
        server=server, texts=_texts(server), faults={}, refused=(), done=done, key=new_key()
    )
    return house.show(request, visitor, page)


@post("/director/letters/server", status_code=200)
async def set_server(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Keep the mail server, try it with a letter to oneself, or forget it."""
    need_director(visitor)
    book_post = house.book.post
    if form.text("do") == "forget":
        await asyncio.to_thread(book_post.set_server, None)
        return Redirect("/director/letters/server?done=forgotten", status_code=303)
    before = await asyncio.to_thread(lambda: book_post.server)
    faults: dict[str, Finding] = {}
    server = _read_server(form, before, faults)
    refused: tuple[Finding, ...] = ()
    if server is not None and not faults:
        await asyncio.to_thread(book_post.set_server, server)
        try:
            if form.text("do") == "test":
                await _test(house, server)
            done = "tested" if form.text("do") == "test" else "saved"
            return Redirect(f"/director/letters/server?done={done}", status_code=303)
        except (BadInput, Refusal, CallroomError) as fault:
            refused = findings_of(fault)
    page = PostServerPage(
        server=server or before,
        texts=dict(form.texts),
        faults=faults,
        refused=refused,
        done="",
        key=new_key(),
    )
    return house.show(request, visitor, page, 422)


async def _test(house: House, server: PostServer) -> None:
    """Send a letter to the sender, and say at once what became of it."""
    say = house.words.gettext
    event = need_event(house.state)
    letter = OutLetter(
        id=letter_id(secrets.token_hex(8), "test"),
        team="",
        kind="test",
        to=server.sender,
        subject=say("A test from {event}").format(event=event.name),
        body=say("If you read this, letters to captains go out.") + "\n",
        made_ms=house.book.now_ms(),
        generation=house.state.generation,
    )

    def write() -> None:
        house.book.post.put_in([("", letter)])
        try:
            house.book.post.send_waiting()
            _need_sent(house, letter.id)
        except CallroomError:
            house.book.post.take_out(letter.id)
            raise

    await asyncio.to_thread(write)


def _need_sent(house: House, letter_id: str) -> None:
    found = next((one for one in house.book.post.letters() if one.id == letter_id), None)
    if found is None or found.state != "sent":
        raise Refusal("post.not_taken", said=found.said if found is not None else "")


def _read_server(
    form: Posted, before: PostServer | None, faults: dict[str, Finding]
) -> PostServer | None:
    def fault(field: str, rule: str, **facts: str) -> None:
        faults[field] = Finding(rule=rule, severity="error", subject=field, facts=facts)

    host, sender = form.text("host"), form.text("sender")
    port = form.whole("port")
    if not host or not host.isprintable() or " " in host:
        fault("host", "post.no_host")
    if port is None or not 1 <= port <= 65_535:
        fault("port", "post.no_port", given=form.text("port")[:20])
    local, at, domain = sender.rpartition("@")
    if not (local and at and domain and sender.isascii() and sender.isprintable()) or " " in sender:
        fault("sender", "post.no_sender", given=sender[:80])
    if faults or port is None:
        return None
    given: Security = next(
        (one for one in get_args(Security) if one == form.text("security")), "starttls"
    )
    # The password is not shown again; an empty field keeps the one there is.
    password = form.texts.get("password", "")[:500]
    if not password and before is not None and form.text("user") == before.user:
        password = before.password
    return PostServer(
        host=host[:200],
        port=port,
        security=given,
        user=form.text("user")[:200],
        password=password,
        sender=sender[:200],
        sender_name=" ".join(form.text("sender_name").split())[:80],
        confirms=form.ticked("confirms"),
    )


def _texts(server: PostServer | None) -> dict[str, str]:
    if server is None:
        return {"port": "587", "security": "starttls", "confirms": "on"}
    texts = {
        "host": server.host,
        "port": str(server.port),
        "security": server.security,
        "user": server.user,
        "sender": server.sender,
        "sender_name": server.sender_name,
    }
    return texts | ({"confirms": "on"} if server.confirms else {})


def _mailing(house: House, kind: str, whom: str, words: str) -> Mailing:
    chosen: LetterKind = next((one for one in LETTERS if one == kind), "reminder")
    divisions = {one.id for one in need_event(house.state).divisions}
    usual = "open" if chosen == "reminder" else "all"
    found = whom if whom in WHOM or whom in divisions else usual
    return Mailing(kind=chosen, whom=found, own_words=words.strip()[:_MOST_WORDS])


async def _found(house: House, mailing: Mailing) -> tuple[Recipient, ...]:
    people = await asyncio.to_thread(house.book.people)
    return recipients(house.state, people, mailing.kind, mailing.whom)


async def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    mailing: Mailing,
    *,
    team: str = "",
    copy: bool = False,
    done: str = "",
    refused: tuple[Finding, ...] = (),
) -> Response[str]:
    found = await _found(house, mailing)
    shown = next((one for one in found if one.team.id == team), found[0] if found else None)
    outbox = await asyncio.to_thread(house.book.post.letters)
    text = None
    if shown is not None:
        link = ""
        if copy:
            link = await asyncio.to_thread(new_link, house, request, shown.team.id)
        base = link_base(house, request, safe=False)
        try:
            text = text_for(house, shown, mailing, link=link, base=base)
        except Refusal as fault:
            refused = (*refused, fault.finding())
    page = LettersPage(
        event=need_event(house.state),
        mailing=mailing,
        found=found,
        before=frozenset(
            one.team for one in outbox if one.kind == mailing.kind and one.state != "failed"
        ),
        shown=shown,
        text=text,
        copied=copy,
        mailto=_mailto(shown, text) if shown is not None and text is not None else "",
        base=link_base(house, request, safe=True),
        server=await asyncio.to_thread(lambda: house.book.post.server),
        rehearsal=house.state.rehearsal,
        outbox=outbox[:_MOST_SHOWN],
        refused=refused,
        done=done,
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused else 200)


def _mailto(one: Recipient, text: LetterText) -> str:
    body = text.body.replace("\n", "\r\n")
    return f"mailto:{quote(one.captain.email)}?subject={quote(text.subject)}&body={quote(body)}"


HANDLERS = (show_letters, act, show_server, set_server)
