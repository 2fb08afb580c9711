"""Personal details: what is held of whom, taken away or erased. Only where nobody reads along."""

import asyncio
from datetime import date
from typing import Any, ClassVar

from litestar import MediaType, Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.model import NotFound
from callroom.model.person import Person
from callroom.views.held import Held, erase_on, erased_for_good, held
from callroom.web.errors import NeedsPrivacy
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor
from callroom.web.voice import Told

_MOST_SHOWN = 500


class PeoplePage(Page, frozen=True, kw_only=True):
    """``/director/people``: everybody the book knows, or those a search found.

    `more` is how many were left out; `erase_day` when everything personal goes by itself, and
    `gone` whether that was done; `backups` are the copies that still hold what was erased here.
    """

    template: ClassVar[str] = "people.html"
    people: tuple[Held, ...]
    wanted: str
    count: int
    more: int
    erase_day: date | None
    gone: bool
    backups: tuple[str, ...]
    told: Told | None
    key: str


class PersonPage(Page, frozen=True, kw_only=True):
    """``/director/people/<id>``: everything held of one person."""

    template: ClassVar[str] = "person.html"
    held: Held
    person: Person
    backups: tuple[str, ...]
    key: str


@get("/director/people")
async def show_people(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    q: FromQuery[str] = "",
    done: FromQuery[str] = "",
) -> Response[str]:
    """Everybody the book knows, what is held of them and why."""
    _need_private(visitor)
    state = house.state
    known = held(state, await asyncio.to_thread(house.book.people))
    wanted = q.strip().casefold()[:80]
    found = tuple(one for one in known if wanted in one.name.casefold() or wanted == one.id)
    page = PeoplePage(
        people=found[:_MOST_SHOWN],
        wanted=q[:80],
        count=len(known),
        more=max(0, len(found) - _MOST_SHOWN),
        erase_day=erase_on(state.event) if state.event is not None else None,
        gone=erased_for_good(state) is not None,
        backups=await _holding(house),
        told=_told(house, done),
        key=new_key(),
    )
    return house.show(request, visitor, page)


@get("/director/people/{person:str}")
async def show_person(
    request: Asked, house: InHouse, visitor: ByVisitor, person: FromPath[str]
) -> Response[str]:
    """Everything held of one person, to take away or to erase."""
    _need_private(visitor)
    known = await asyncio.to_thread(house.book.people)
    if person not in known:
        raise NotFound("person.not_held", person=person[:80])
    (found,) = held(house.state, {person: known[person]})
    page = PersonPage(
        held=found, person=known[person], backups=await _holding(house), key=new_key()
    )
    return house.show(request, visitor, page)


@get("/director/people/{person:str}/file")
async def take_away(house: InHouse, visitor: ByVisitor, person: FromPath[str]) -> Response[bytes]:
    """Everything held of one person as a file for them."""
    _need_private(visitor)
    content = await asyncio.to_thread(house.book.personal.file, person)
    if not content:
        raise NotFound("person.not_held", person=person[:80])
    headers = {"content-disposition": 'attachment; filename="personal-details.json"'}
    return Response(content, media_type=MediaType.JSON, headers=headers)


@post("/director/people/{person:str}", status_code=200)
async def erase_one(
    house: InHouse, visitor: ByVisitor, form: PostedForm, person: FromPath[str]
) -> Response[Any]:
    """Erase a person, down to the bytes."""
    _need_private(visitor)
    if not form.ticked("sure"):
        return Redirect(f"/director/people/{person}", status_code=303)
    if person not in await asyncio.to_thread(house.book.people):
        raise NotFound("person.not_held", person=person[:80])
    key = form.text("key") or new_key()
    if visitor.actor is not None:
        erased = await asyncio.to_thread(house.book.personal.erase, visitor.actor, person, key)
        done = "one" if erased.complete else "again"
        return Redirect(f"/director/people?done={done}", status_code=303)
    return Redirect("/director/people", status_code=303)


@post("/director/people", status_code=200)
async def erase_all(house: InHouse, visitor: ByVisitor, form: PostedForm) -> Response[Any]:
    """Erase everything personal but what the accounts need."""
    _need_private(visitor)
    if not form.ticked("sure") or visitor.actor is None:
        return Redirect("/director/people?done=unsure", status_code=303)
    key = form.text("key") or new_key()
    erased = await asyncio.to_thread(house.book.personal.erase_everyone, visitor.actor, key)
    done = "all" if erased.complete else "again"
    return Redirect(f"/director/people?done={done}", status_code=303)


def _need_private(visitor: Visitor) -> None:
    need_director(visitor)
    if not visitor.private:
        raise NeedsPrivacy("web.needs_privacy")


async def _holding(house: House) -> tuple[str, ...]:
    backups = await asyncio.to_thread(house.book.backups)
    return tuple(path for path, share in backups.items() if not share)


def _told(house: House, done: str) -> Told | None:
    say = house.words.gettext
    if done == "one":
        return Told(text=say("The person is erased. Scores stay, under no name."))
    if done == "all":
        return Told(text=say("Everything personal is erased, but what the accounts need."))
    if done == "again":
        said = say(
            "It is erased, but somebody was reading the book just then, and old bytes may still lie "
            "in the file. Callroom writes it anew at the next start."
        )
        return Told(text=said, good=False)
    if done == "unsure":
        return Told(text=say("Nothing was erased: tick that you are sure."), good=False)
    return None


HANDLERS = (show_people, erase_all, show_person, erase_one, take_away)
