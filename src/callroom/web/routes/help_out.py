"""The public form by which somebody offers to help. Personal details only in private."""

from datetime import date
from typing import Any, ClassVar

from litestar import Response, get, post
from litestar.params import FromQuery
from litestar.response import Redirect

from callroom.actions.helping import offer_help
from callroom.bootstrap.team_links import beside_people, journal_key, person_id
from callroom.model import Actor, BadInput, CallroomError, CrewMember, Finding, milliseconds
from callroom.model.crew import POSTS
from callroom.model.helping import Helping
from callroom.model.person import Person
from callroom.web.entering import LEAST_KEY, MOST_FORM_BYTES, typed_form
from callroom.web.errors import NeedsPrivacy, findings_of
from callroom.web.forms.crew_form import CrewForm, days_of, read_crew_form
from callroom.web.given import ByVisitor, InHouse
from callroom.web.house import Asked, House, need_event, new_key
from callroom.web.pages import Page
from callroom.web.routes.crew import team_choices
from callroom.web.visitor import Visitor

_FORM = Actor(role="public", device="help-form", name="sign-up of helpers")


class HelpOutPage(Page, frozen=True, kw_only=True):
    """``/help-out``: the form while it is `open`; `sent`: it has just been taken."""

    template: ClassVar[str] = "help_out.html"
    helping: Helping
    open: bool
    sent: bool
    form: CrewForm
    posts: tuple[str, ...]
    teams: tuple[tuple[str, str], ...]
    days: tuple[date, ...]
    refused: tuple[Finding, ...]
    key: str


@get("/help-out")
async def show_help_out(
    request: Asked, house: InHouse, visitor: ByVisitor, sent: FromQuery[str] = ""
) -> Response[str]:
    """The form, empty; or whom to ask instead."""
    need_event(house.state)
    return _page(request, house, visitor, CrewForm(texts={}), "", sent=sent == "yes")


@post("/help-out", status_code=200, request_max_body_size=MOST_FORM_BYTES)
async def send_help_out(request: Asked, house: InHouse, visitor: ByVisitor) -> Response[Any]:
    """Keep an offer, or show the form again with everything that is wrong beside its field."""
    typed = await typed_form(request, house, visitor)
    if not visitor.private:
        raise NeedsPrivacy("entering.needs_privacy")
    event, key = need_event(house.state), typed.form.text("key")
    form = CrewForm(texts=typed.form.texts)
    if not typed.ours or len(key) < LEAST_KEY:
        again = Finding(rule="entering.send_again", severity="error", subject="form")
        return _page(request, house, visitor, form, key, (again,))
    id_ = person_id(key, "help")
    blank = CrewMember(person=id_, posts=())
    read = read_crew_form(event, typed.form, blank, Person(name=""), public=True)
    if read.faults:
        form = CrewForm(texts=typed.form.texts, faults=read.faults)
        return _page(request, house, visitor, form, key)
    try:
        # A form that is sent twice leads to the same person, who has offered already.
        if id_ not in house.state.offers and id_ not in house.state.crew:
            beside = beside_people({id_: read.person})
            asked = offer_help(read.member)
            await house.book.ask(_FORM, asked, key=journal_key(key), beside=beside)
    except BadInput as fault:
        return _page(request, house, visitor, form, key, findings_of(fault))
    except CallroomError as fault:
        return _page(request, house, visitor, form, key, (fault.finding(),))
    return Redirect("/help-out?sent=yes", status_code=303)


def is_open(house: House) -> bool:
    """Whether somebody may offer to help now."""
    event = house.state.event
    if event is None or house.state.away is not None:
        return False
    return house.state.helping.is_open(house.book.now_ms(), milliseconds(event.starts_at))


def _page(
    request: Asked,
    house: House,
    visitor: Visitor,
    form: CrewForm,
    key: str,
    refused: tuple[Finding, ...] = (),
    *,
    sent: bool = False,
) -> Response[str]:
    state = house.state
    page = HelpOutPage(
        helping=state.helping,
        open=is_open(house),
        sent=sent,
        form=form,
        posts=POSTS,
        teams=team_choices(state),
        days=days_of(need_event(state)),
        refused=refused,
        key=key if len(key) >= LEAST_KEY else new_key() + new_key(),
    )
    return house.show(request, visitor, page, 422 if refused or form.faults else 200)


HANDLERS = (show_help_out, send_help_out)
