"""Teams that enter by themselves: who they are in the journal, and how their forms are stored."""

from collections.abc import Mapping

import msgspec
from msgspec.structs import replace

from callroom.actions import entering as ask_entering
from callroom.actions.entering_rules import team_device
from callroom.bootstrap.team_links import beside_link, beside_people, journal_key, token_for
from callroom.model import (
    Actor,
    CallroomError,
    NotFound,
    Refusal,
    Stale,
    State,
    Team,
    milliseconds,
)
from callroom.model.entering import Enrolment, next_team_id
from callroom.views.account_book import people_in
from callroom.web.errors import Forged, NeedsPrivacy
from callroom.web.forms.posted import Posted
from callroom.web.forms.read_team import Filled
from callroom.web.house import Asked, House
from callroom.web.visitor import Visitor

MOST_FORM_BYTES = 64 * 1024
LEAST_KEY = 20
_TRIES = 8
_FORM = Actor(role="public", device="entry-form", name="entry form")


class TypedForm(msgspec.Struct, frozen=True):
    """A form of somebody without a role; `ours` says that it came from this browser's own page."""

    form: Posted
    ours: bool


async def typed_form(request: Asked, house: House, visitor: Visitor) -> TypedForm:
    """Return a form of a team; one that cannot be tied to its page is still read.

    A stranger's browser can lose its token (a second tab, cookies that are off). Nothing is
    stored then, but what was typed is shown again.

    Raises
    ------
    TooOften
        If more forms come from there than people fill in.
    Forged
        If it was asked for by a program, or by somebody who holds a role.
    """
    house.forms.take(visitor.origin)
    form = await request.form()
    posted = Posted({name: value for name, value in form.items() if isinstance(value, str)})
    ours = bool(visitor.token) and visitor.form_token_fits(posted.text("form_token"))
    reads = "html" in request.headers.get("accept", "") and visitor.actor is None
    if visitor.by_cookie and not ours and not reads:
        raise Forged("web.forged")
    return TypedForm(posted, ours or not visitor.by_cookie)


def is_open(house: House) -> bool:
    """Whether teams may enter and change now."""
    event = house.state.event
    if event is None or house.state.away is not None:
        return False
    return house.state.entering.is_open(house.book.now_ms(), milliseconds(event.starts_at))


async def enrol(house: House, filled: Filled, form_key: str) -> str:
    """Store a new team's form and return the token of its link; sent twice, it is stored once.

    Raises
    ------
    CallroomError
        Whatever the rules or the store refuse.
    """
    token = token_for(form_key)
    async with house.entering:
        if house.book.links.team_of(token):
            return token
        for _ in range(_TRIES):
            state = house.state
            team_id = next_team_id(set(state.teams) | set(state.enrolments))
            team = replace(filled.team, id=team_id)
            beside = (beside_link(token, team_id), *beside_people(filled.people))
            try:
                asked = ask_entering.enrol(state, team)
                await house.book.ask(_FORM, asked, key=journal_key(form_key), beside=beside)
            except CallroomError as fault:
                if house.book.links.team_of(token):
                    break  # another process of this server took the same form
                if not isinstance(fault, Stale):
                    raise
                continue  # the director entered or let go of a team in the same moment
            break
        else:
            raise Refusal("enrolment.other_outcome")
    return token


class OwnTeam(msgspec.Struct, frozen=True, kw_only=True):
    """A team as its own link shows it; `enrolment` is None if it never sent a form."""

    team: Team
    enrolment: Enrolment | None
    left: bool

    @property
    def over(self) -> bool:
        """Whether it is not in any more, and does not wait."""
        ended = self.enrolment is not None and self.enrolment.status in {"withdrawn", "declined"}
        return ended or self.left

    @property
    def actor(self) -> Actor:
        """Who it is in the journal."""
        return Actor(role="public", device=team_device(self.team.id), name="team by its link")


def own_team(house: House, visitor: Visitor, token: str) -> OwnTeam:
    """Return the team that a link opens.

    Raises
    ------
    NeedsPrivacy
        Where others could read along.
    NotFound
        If it opens none, or none any more.
    """
    if not visitor.private:
        raise NeedsPrivacy("entering.needs_privacy")
    state = house.state
    team_id = house.book.links.team_of(token)
    enrolment = state.enrolments.get(team_id)
    team = state.teams.get(team_id) or (enrolment.team if enrolment is not None else None)
    if team is None:
        raise NotFound("entering.no_link")
    return OwnTeam(team=team, enrolment=enrolment, left=team_id in state.team_status)


def basis_of(state: State, team: str) -> dict[str, int]:
    """Return what a change of a team rests on."""
    return {f"team:{team}": state.subjects.get(f"team:{team}", 0)}


def only_here(state: State, gone: tuple[str, ...], team: str) -> tuple[str, ...]:
    """Return those of `gone` whom the book needs for nothing else than that team."""
    others = {
        athlete.person
        for other in (*state.teams.values(), *(one.team for one in state.enrolments.values()))
        if other.id != team
        for athlete in other.athletes
    }
    needed = others | set(state.crew) | set(people_in(state))
    return tuple(one for one in gone if one not in needed)


async def store_change(
    house: House, actor: Actor, filled: Filled, basis: Mapping[str, int], key: str
) -> None:
    """Store a change of a team, with details of its people beside an entry that names none.

    Raises
    ------
    Stale
        If the team was changed since it was shown.
    """
    leaving = only_here(house.state, filled.gone, filled.team.id)
    beside = beside_people(filled.people, leaving)
    asked = ask_entering.revise(filled.team, basis)
    await house.book.ask(actor, asked, key=key, beside=beside)
