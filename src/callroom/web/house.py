"""What every handler is handed: the book, the pages, the live hub, the limits."""

import asyncio
import logging
import secrets
from collections.abc import Iterable
from gettext import NullTranslations
from typing import Any

from litestar import MediaType, Request, Response
from litestar.di import NamedDependency
from litestar.exceptions import HTTPException
from markupsafe import Markup

from callroom.bootstrap.language import language_of
from callroom.bootstrap.searches import Searches
from callroom.model import CallroomError, Event, NotAllowed, NotFound, Role, State
from callroom.views.card_questions import NOTHING_EXPECTED, Expectations
from callroom.views.page_head import page_head, public_at, released
from callroom.web.assets import Assets
from callroom.web.contexts import ProblemPage
from callroom.web.errors import (
    Forged,
    NeedsPrivacy,
    NotSignedIn,
    Problem,
    as_refusal,
    findings_of,
    status_of,
)
from callroom.web.expectations import Expecting
from callroom.web.forms.posted import Posted
from callroom.web.heat_lengths import HeatLengths
from callroom.web.hub import Hub
from callroom.web.lane_watch import LaneWatch
from callroom.web.live_text import LiveText
from callroom.web.pages import Page, Pages, html
from callroom.web.ports import Book
from callroom.web.postman import Postman
from callroom.web.seen import Seen
from callroom.web.settings import WebSettings
from callroom.web.throttle import Throttle
from callroom.web.topics import Topics
from callroom.web.visitor import Visitor, chance_token, set_cookie, visitor_of
from callroom.web.voice import Voice

Asked = Request[Any, Any, Any]

# Common practice, no source. A pad that was long without network sends some hundred scores at
# once; a person at a form never comes near.
POSTS_AT_ONCE, POSTS_PER_S = 300, 20.0
# A crowd behind one address of the venue's network joins at about the same time.
TRIES_AT_ONCE, TRIES_PER_S = 60, 1.0
# A gym's whole class enters from one address in an evening; a program sends without end.
FORMS_AT_ONCE, FORMS_PER_S = 120, 0.5
# Open streams of the whole server; beyond it new ones are told to come back later.
MOST_STREAMS = 4_000

_log = logging.getLogger("callroom.web")
_security = logging.getLogger("callroom.security")


class House:
    """One served book with all that its handlers share."""

    def __init__(self, book: Book, settings: WebSettings, assets: Assets) -> None:
        """Serve `book` as `settings` say."""
        self.book = book
        self.settings = settings
        self.assets = assets
        self.pages = Pages(assets)
        self.searches = Searches(book)
        self.expecting = Expecting() if settings.foretell else None
        lengths = HeatLengths() if settings.foretell else None
        self.topics = Topics(self.pages, self.searches, lengths)
        self.hub = Hub(book, self.topics)
        self.searches.on_change = self.hub.nudge
        self.posts = Throttle(POSTS_AT_ONCE, POSTS_PER_S)
        self.tries = Throttle(TRIES_AT_ONCE, TRIES_PER_S)
        self.forms = Throttle(FORMS_AT_ONCE, FORMS_PER_S)
        # Entry forms are taken one by one, so that each sees the number and place left to it.
        self.entering = asyncio.Lock()
        self.letters = Postman(book)
        # Changes of drafts by hand: each is made to the draft that the one before left.
        self.touching = asyncio.Lock()
        self.lanes = LaneWatch()
        self.seen = Seen()

    @property
    def state(self) -> State:
        """The State of the last published batch."""
        return self.book.state

    def expected(self) -> Expectations:
        """Return what the forecast expects of scores, as far as that is worked out."""
        event = self.state.event
        if self.expecting is None or event is None:
            return NOTHING_EXPECTED
        return self.expecting.of(event)

    def released(self) -> frozenset[str]:
        """Return which workouts the public may see by now."""
        return released(self.state, public_at(self.state, self.book.now_ms()))

    async def live(self, topic: str) -> LiveText:
        """Return a live part of a page; NotFound if there is no such topic."""
        frame = await self.hub.frame(topic)
        if frame is None:
            raise NotFound("web.no_page")
        return LiveText(topic=topic, seq=frame.seq, text=Markup(frame.text))  # noqa: S704

    def show(
        self, request: Asked, visitor: Visitor, page: Page, status: int = 200
    ) -> Response[str]:
        """Return a page; a browser that has no token yet is given one to tie its forms to."""
        fresh = not visitor.token
        if fresh:
            visitor = _with_token(visitor, chance_token())
        text = self.pages.page(page, state=self.state, visitor=visitor, path=request.url.path)
        response = html(text, status)
        if fresh:
            self.hand_token(request, response, visitor.token)
        return response

    def hand_token(self, request: Asked, response: Response[Any], token: str) -> None:
        """Give the browser a token, or take it away with an empty one."""
        secure = request.scope["scheme"] == "https"
        response.headers["set-cookie"] = set_cookie(self.settings, token, secure=secure)

    @property
    def printed(self) -> str:
        """Where cards and codes lead phones; empty: nowhere was said."""
        event = self.state.event
        return self.settings.address or (event.address if event is not None else "")

    @property
    def words(self) -> NullTranslations:
        """The texts of the event's language."""
        return language_of(page_head(self.state).language).words

    def labels(self, devices: Iterable[str]) -> dict[str, str]:
        """Return what was typed about each of `devices`; those without a label are left out."""
        found = {device: self.book.doors.label_of(device) for device in devices}
        return {device: label for device, label in found.items() if label}

    def voice(self, state: State) -> Voice:
        """Return what says values of `state`."""
        head = page_head(state)
        return Voice(state, head, language_of(head.language))

    def problem(self, fault: CallroomError) -> Problem:
        """Return a refusal in the one shape of an error."""
        voice = self.voice(self.state)
        findings = findings_of(fault)
        first = findings[0] if len(findings) == 1 else fault.finding()
        listed = tuple(
            {
                "rule": finding.rule,
                "severity": finding.severity,
                "subject": finding.subject,
                "facts": dict(finding.facts),
                "source": finding.source,
                "sentence": voice.sentence(finding),
            }
            for finding in findings
        )
        return Problem(
            rule=fault.rule,
            facts=dict(fault.facts),
            sentence=voice.sentence(first),
            findings=listed,
        )


def _with_token(visitor: Visitor, token: str) -> Visitor:
    return Visitor(
        actor=None,
        token=token,
        by_cookie=True,
        private=visitor.private,
        shut_out=visitor.shut_out,
        origin=visitor.origin,
        reads=visitor.reads,
    )


def new_key() -> str:
    """Return a new key for one form: sent twice, it is stored once."""
    return secrets.token_urlsafe(12)


def need_role(visitor: Visitor, kind: str) -> None:
    """Refuse a visitor whose role may not propose entries of `kind`."""
    if visitor.shut_out:
        raise NeedsPrivacy("web.needs_privacy")
    if visitor.actor is None:
        raise NotSignedIn("web.not_signed_in")
    if not visitor.may(kind):
        raise NotAllowed("web.other_role", role=visitor.role)


def need_director(visitor: Visitor) -> None:
    """Refuse anybody but the director, at the machine itself or over TLS."""
    if visitor.shut_out or not visitor.private:
        raise NeedsPrivacy("web.needs_privacy")
    if visitor.actor is None:
        raise NotSignedIn("web.not_director")
    if visitor.role != "director":
        raise NotAllowed("web.not_director")


def need_event(state: State) -> Event:
    """Return the event; NotFound if the book has none yet."""
    if state.event is None:
        raise NotFound("book.no_event")
    return state.event


async def posted_form(
    request: Asked, visitor: NamedDependency[Visitor], house: "NamedDependency[House]"
) -> Posted:
    """Return a posted form, if it came from a page that this browser was given.

    Raises
    ------
    Forged
        Without the form's token.
    TooOften
        If this device posts more than a person can.
    """
    house.posts.take(_sender(visitor))
    form = await request.form()
    posted = Posted({name: value for name, value in form.items() if isinstance(value, str)})
    if visitor.by_cookie and not (
        visitor.token and visitor.form_token_fits(posted.texts.get("form_token", ""))
    ):
        raise Forged("web.forged")
    return posted


def _sender(visitor: Visitor) -> str:
    return visitor.actor.device if visitor.actor is not None else f"from {visitor.origin}"


def take_post(house: House, visitor: Visitor) -> None:
    """Count one post that is no form; TooOften if this device posts too often."""
    house.posts.take(_sender(visitor))


def house_of(request: Asked) -> House:
    """Return the house a request came to."""
    house: House = request.scope["state"]["house"]
    return house


def asking(request: Asked, house: "NamedDependency[House]") -> Visitor:
    """Return who sent a request.

    It asks for the house, so that the two are found one after the other: what depends on nothing
    is found in tasks of its own, which cost more than all the rest of a request.
    """
    visitor = visitor_of(request, house.book, house.settings)
    if visitor.actor is not None:
        house.seen.device(visitor.actor.device, house.book.now_ms())
    return visitor


def answer_fault(request: Asked, fault: Exception) -> Response[Any]:
    """Return the answer to anything that was refused or went wrong."""
    house = house_of(request)
    refused = as_refusal(fault)
    status = status_of(refused)
    if isinstance(fault, HTTPException) and refused.rule == "web.unreadable":
        status = fault.status_code
    if status >= 500:
        _log.error("%s %s failed", request.method, request.url.path, exc_info=fault)
    if status in {401, 403, 421, 429}:
        _security.info("%s /%s refused: %s", request.method, _place(request), refused.rule)
    problem = house.problem(refused)
    response = _as_asked(request, house, problem, status)
    if "wait_s" in problem.facts:
        response.headers["retry-after"] = str(problem.facts["wait_s"])
    return response


def _place(request: Asked) -> str:
    """Return where a request went, without what may be a token or a code behind it."""
    return request.url.path.strip("/").partition("/")[0]


def _as_asked(request: Asked, house: House, problem: Problem, status: int) -> Response[Any]:
    wanted = request.headers.get("accept", "")
    if "html" not in wanted and "hx-request" not in request.headers:
        return Response(problem, status_code=status, media_type=MediaType.JSON)
    if "hx-request" in request.headers:
        text = house.pages.fragment("parts/problem.html", problem, house.state)
        return html(text, status)
    visitor = asking(request, house)
    back = request.headers.get("referer", "") if request.method == "POST" else ""
    back_path = back if back.startswith(str(request.base_url)) else ""
    page = ProblemPage(status=status, problem=problem, back=back_path)
    return house.show(request, visitor, page, status)


ROLES_BY_CODE: tuple[Role, ...] = ("judge", "desk", "head_judge", "crew", "first_aid")
