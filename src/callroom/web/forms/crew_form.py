"""A volunteer as somebody types them: on the public form, or on the director's page."""

from collections.abc import Mapping
from datetime import date, timedelta

import msgspec
from msgspec.structs import replace

from callroom.model import BadTime, CrewMember, Event, Finding, parse_clock, wall_time
from callroom.model.clock import local_instant
from callroom.model.crew import POSTS
from callroom.model.person import Person
from callroom.web.forms.posted import Posted
from callroom.web.forms.team_form import TRAP

FAMILIES = ("family_1", "family_2", "family_3")
"""The fields for teams in which somebody has family."""

_MOST = {"name": 80, "email": 200, "phone": 40, "gym": 80}


class CrewForm(msgspec.Struct, frozen=True, kw_only=True):
    """The form as text, by field, and what is wrong beside which field."""

    texts: Mapping[str, str]
    faults: Mapping[str, Finding] = {}

    def text(self, name: str) -> str:
        """Return what stands in a field; empty if nothing does."""
        return self.texts.get(name, "")

    def fault(self, name: str) -> Finding | None:
        """Return what is wrong with a field, or None."""
        return self.faults.get(name)


class CrewRead(msgspec.Struct, frozen=True, kw_only=True):
    """What a form says: the volunteer, who they are, and what is wrong beside which field."""

    member: CrewMember
    person: Person
    faults: Mapping[str, Finding]


def crew_form(event: Event, member: CrewMember, person: Person) -> CrewForm:
    """Return a volunteer as they stand."""
    texts = {
        "name": person.name,
        "email": person.email,
        "phone": person.phone,
        "gym": member.gym,
        "team": member.team,
        "free_from": _written(event, member.free_from_s),
        "free_until": _written(event, member.free_until_s),
    }
    texts |= {f"post-{post}": "on" for post in member.posts}
    texts |= dict(zip(FAMILIES, member.family_in, strict=False))
    if member.experienced:
        texts["experienced"] = "on"
    if person.ask_again:
        texts["ask_again"] = "on"
    return CrewForm(texts=texts)


def read_crew_form(
    event: Event, form: Posted, member: CrewMember, person: Person, *, public: bool
) -> CrewRead:
    """Return `member` and `person` as the form changes them.

    `public`: somebody types it themself, so they must be reachable and agree to be kept.
    """
    faults: dict[str, Finding] = {}

    def fault(name: str, rule: str, **facts: str | int) -> None:
        faults.setdefault(name, Finding(rule=rule, severity="error", subject=name, facts=facts))

    if form.text(TRAP):
        fault(TRAP, "form.trap")
    for name, most in _MOST.items():
        if len(form.text(name)) > most:
            fault(name, "form.too_long", length=len(form.text(name)), most=most)
    if not form.text("name"):
        fault("name", "help.no_name")
    email, phone = form.text("email"), form.text("phone")
    if email and ("@" not in email[1:-1] or any(sign.isspace() for sign in email)):
        fault("email", "form.no_email", given=email[:80])
    if public and not email and not phone:
        fault("email", "help.no_contact")
    if public and not form.ticked("agree"):
        fault("agree", "help.not_agreed")
    known = (*POSTS, *(post for post in member.posts if post not in POSTS))
    posts = tuple(post for post in known if form.ticked(f"post-{post}"))
    if not posts:
        fault("posts", "help.no_post")
    times: dict[str, int | None] = {}
    for name in ("free_from", "free_until"):
        try:
            times[name] = _offset_s(event, form.text(name))
        except (BadTime, ValueError):
            fault(name, "help.no_time", given=form.text(name)[:40])
            times[name] = None
    from_s, until_s = times["free_from"], times["free_until"]
    if from_s is not None and until_s is not None and until_s <= from_s:
        fault("free_until", "help.never_free")
    families = (form.text(name) for name in FAMILIES)
    return CrewRead(
        member=replace(
            member,
            posts=posts,
            team=form.text("team"),
            family_in=(*dict.fromkeys(one for one in families if one), *member.family_in[3:]),
            gym=form.text("gym"),
            experienced=form.ticked("experienced"),
            free_from_s=from_s,
            free_until_s=until_s,
        ),
        person=replace(
            person,
            name=form.text("name"),
            email=email,
            phone=phone,
            ask_again=form.ticked("ask_again"),
        ),
        faults=faults,
    )


def days_of(event: Event) -> tuple[date, ...]:
    """Return the days of an event, the first one first; times need a day where there are several."""
    last_s = max((day.closes_s for day in event.wishes.days), default=0)
    last = wall_time(event.instant(last_s), event.zone).date()
    count = max((last - event.day).days, 0) + 1
    return tuple(event.day + timedelta(days=number) for number in range(count))


def _offset_s(event: Event, text: str) -> int | None:
    """Return a time, alone or with its day (``"2027-04-25T09:00"``), from the day's start [s]."""
    if not text:
        return None
    day, _, clock = text.rpartition("T")
    on = date.fromisoformat(day) if day else event.day
    instant = local_instant(on, parse_clock(clock), event.zone)
    return int((instant - event.starts_at).total_seconds())


def _written(event: Event, offset_s: int | None) -> str:
    if offset_s is None:
        return ""
    at = wall_time(event.instant(offset_s), event.zone)
    several = len(days_of(event)) > 1 or at.date() != event.day
    return at.strftime("%Y-%m-%dT%H:%M" if several else "%H:%M")
