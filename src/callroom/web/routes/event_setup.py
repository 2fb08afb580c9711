"""The event in the browser: its first questions, its pages, and teams that are expected."""

import os
from collections.abc import Callable
from gettext import NullTranslations
from pathlib import Path
from typing import Any, ClassVar
from zoneinfo import available_timezones

from litestar import Response, get, post
from litestar.params import FromPath, FromQuery
from litestar.response import Redirect

from callroom.actions.digest import inputs_digest
from callroom.actions.event_setting import (
    MOST_EXPECTED,
    begin_event,
    expect_teams,
    expected_teams,
    set_event,
)
from callroom.bootstrap.event_asking import KINDS
from callroom.bootstrap.language import language_of
from callroom.model import BadInput, Finding, NotFound, Refusal, Stale, State
from callroom.web.errors import findings_of, status_of
from callroom.web.event_pages import (
    NEW,
    Part,
    SetupForm,
    parts_of,
    read_form,
    typed_form,
    written_form,
)
from callroom.web.event_pages.first import USUAL, FirstForm, read_first
from callroom.web.given import ByVisitor, InHouse, PostedForm
from callroom.web.house import Asked, House, need_director, need_event, new_key
from callroom.web.pages import Page
from callroom.web.visitor import Visitor

_MOST_BODY = 512 * 1024


class FirstPage(Page, frozen=True, kw_only=True):
    """``/director/event`` of a book without an event: the first questions.

    `kinds` are the divisions to choose from, as ids and names; `zones` all time zones.
    """

    template: ClassVar[str] = "event_first.html"
    form: FirstForm
    refused: tuple[Finding, ...]
    kinds: tuple[tuple[str, str], ...]
    zones: tuple[str, ...]
    key: str


class EventPage(Page, frozen=True, kw_only=True):
    """``/director/event``: the parts of the event, and how many teams are expected.

    `divisions` are ids, names, teams that have entered and teams that stand in for others.
    """

    template: ClassVar[str] = "event_parts.html"
    parts: tuple[Part, ...]
    divisions: tuple[tuple[str, str, int, int], ...]
    most: int
    begun: bool
    saved: bool
    refused: tuple[Finding, ...]
    key: str


class PartPage(Page, frozen=True, kw_only=True):
    """``/director/event/{part}``: the fields of one part.

    `seen` is what a change rests on; `new` the name of a row to be added. `old_plan`: the plan
    in force was made from other data. `printed`: there is a plan, so sheets may have been printed.
    """

    template: ClassVar[str] = "event_part.html"
    part: Part
    parts: tuple[Part, ...]
    form: SetupForm
    refused: tuple[Finding, ...]
    new: str
    seen: int
    saved: bool
    old_plan: bool
    printed: bool
    key: str


@get("/director/event")
async def show_event(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    saved: FromQuery[str] = "",
    begun: FromQuery[str] = "",
) -> Response[str]:
    """The parts of the event; of a book that has none, the first questions."""
    need_director(visitor)
    if house.state.event is None:
        usual = {"zone": zone_here(), "name": _name_of(house), **USUAL}
        return _first_page(request, house, visitor, FirstForm(texts=usual))
    page = _event_page(house, saved=bool(saved), begun=bool(begun))
    return house.show(request, visitor, page)


@post("/director/event", status_code=200)
async def begin(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Make the event from the first questions, or ask again with everything that is wrong."""
    need_director(visitor)
    language = form.text("language") or "en"
    words = language_of(language).words
    read = read_first(form, language, words)
    if isinstance(read, FirstForm):
        return _first_page(request, house, visitor, read)
    try:
        if visitor.actor is not None:
            asked = begin_event(house.state, read.event, read.expected, _naming(words))
            await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        typed = FirstForm(texts=form.texts)
        return _first_page(request, house, visitor, typed, findings_of(fault))
    return Redirect("/director/event?begun=yes", status_code=303)


@post("/director/event/expected", status_code=200)
async def expect(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm
) -> Response[Any]:
    """Set how many teams are expected in each division, beyond those that have entered."""
    need_director(visitor)
    event = need_event(house.state)
    wanted: dict[str, int] = {}
    wrong: list[Finding] = []
    for one in event.divisions:
        count = form.whole(f"expected-{one.id}")
        if count is None or count > MOST_EXPECTED:
            given = form.text(f"expected-{one.id}")[:20]
            facts: dict[str, str | int] = {"given": given, "least": 0, "most": MOST_EXPECTED}
            wrong.append(
                Finding(rule="first.no_number", severity="error", subject=one.id, facts=facts)
            )
        else:
            wanted[one.id] = count
    try:
        if not wrong and visitor.actor is not None:
            asked = expect_teams(house.state, wanted, _naming(house.words))
            if asked.proposals:
                await house.book.ask(visitor.actor, asked, key=form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        wrong = list(findings_of(fault))
    if wrong:
        return house.show(request, visitor, _event_page(house, refused=tuple(wrong)), 422)
    return Redirect("/director/event?saved=yes", status_code=303)


@get("/director/event/{part:str}")
async def show_part(
    request: Asked,
    house: InHouse,
    visitor: ByVisitor,
    part: FromPath[str],
    saved: FromQuery[str] = "",
) -> Response[str]:
    """One part of the event, as it stands."""
    need_director(visitor)
    asked = _part(house, part)
    form = written_form(need_event(house.state), asked)
    return _part_page(request, house, visitor, asked, form, saved=bool(saved))


@post("/director/event/{part:str}", status_code=200, request_max_body_size=_MOST_BODY)
async def save_part(
    request: Asked, house: InHouse, visitor: ByVisitor, form: PostedForm, part: FromPath[str]
) -> Response[Any]:
    """Save one part, or show it again as typed with everything that is wrong."""
    need_director(visitor)
    asked, event = _part(house, part), need_event(house.state)
    read = read_form(event, asked, form.texts)
    if isinstance(read, SetupForm):
        return _part_page(request, house, visitor, asked, read, status=422)
    seen = form.whole("seen") or 0
    try:
        if read != event and visitor.actor is not None:
            request_made = set_event(house.state, read, seen)
            await house.book.ask(visitor.actor, request_made, key=form.text("key") or new_key())
    except (BadInput, Refusal) as fault:
        return _part_page(
            request,
            house,
            visitor,
            asked,
            typed_form(asked, form.texts),
            refused=findings_of(fault),
            # What is shown next is as it now stands, so pressing again is a new decision.
            seen=_seen(house.state) if isinstance(fault, Stale) else seen,
            status=status_of(fault),
        )
    return Redirect(f"/director/event/{part}?saved=yes", status_code=303)


def _name_of(house: House) -> str:
    """Return what the book was called when it was made: the name of its file."""
    return house.book.path.stem if isinstance(house.book.path, Path) else ""


def zone_here() -> str:
    """Return the time zone of this machine by its name, empty where it does not say."""
    told = os.environ.get("TZ", "")
    try:
        linked = Path("/etc/localtime").resolve().as_posix().partition("zoneinfo/")[2]
    except OSError:
        linked = ""
    return next((one for one in (told, linked) if one in available_timezones()), "")


def _naming(words: NullTranslations) -> Callable[[int], str]:
    text = words.gettext("Expected team {number}")
    return lambda number: text.format(number=number)


def _seen(state: State) -> int:
    return state.subjects.get("event", 0)


def _parts(house: House) -> tuple[Part, ...]:
    state = house.state
    teams = tuple(team for team in state.teams.values() if team.id not in state.team_status)
    return parts_of(need_event(state), teams, house.words.gettext)


def _part(house: House, name: str) -> Part:
    found = next((one for one in _parts(house) if one.name == name), None)
    if found is None:
        raise NotFound("web.no_page")
    return found


def _first_page(
    request: Asked,
    house: House,
    visitor: Visitor,
    form: FirstForm,
    refused: tuple[Finding, ...] = (),
) -> Response[str]:
    page = FirstPage(
        form=form,
        refused=refused,
        kinds=tuple((one, house.words.gettext(kind.name)) for one, kind in KINDS.items()),
        zones=tuple(sorted(one for one in available_timezones() if "/" in one)),
        key=new_key(),
    )
    return house.show(request, visitor, page, 422 if refused or form.faults else 200)


def _event_page(
    house: House,
    *,
    saved: bool = False,
    begun: bool = False,
    refused: tuple[Finding, ...] = (),
) -> EventPage:
    state = house.state
    event, expected = need_event(state), expected_teams(state)
    here = [team.division for team in state.teams.values() if team.id not in state.team_status]
    return EventPage(
        parts=_parts(house),
        divisions=tuple(
            (
                one.id,
                one.name,
                here.count(one.id) - len(expected.get(one.id, ())),
                len(expected.get(one.id, ())),
            )
            for one in event.divisions
        ),
        most=MOST_EXPECTED,
        begun=begun,
        saved=saved,
        refused=refused,
        key=new_key(),
    )


def _part_page(
    request: Asked,
    house: House,
    visitor: Visitor,
    part: Part,
    form: SetupForm,
    *,
    refused: tuple[Finding, ...] = (),
    seen: int | None = None,
    saved: bool = False,
    status: int = 200,
) -> Response[str]:
    state = house.state
    plan = state.plan
    page = PartPage(
        part=part,
        parts=_parts(house),
        form=form,
        refused=refused,
        new=NEW,
        seen=_seen(state) if seen is None else seen,
        saved=saved,
        old_plan=plan is not None and plan.inputs_digest != inputs_digest(state),
        printed=plan is not None,
        key=new_key(),
    )
    return house.show(request, visitor, page, status)


HANDLERS = (show_event, begin, expect, show_part, save_part)
