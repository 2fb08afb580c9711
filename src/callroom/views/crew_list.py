"""The crew as the director sees it: who they are, what they can do, what they are down for."""

from collections.abc import Mapping

import msgspec

from callroom.model import CrewMember, State, Training
from callroom.model.crew import POSTS
from callroom.model.person import Person
from callroom.views.rota_day import DutyLine, person_day


class CrewLine(msgspec.Struct, frozen=True, kw_only=True):
    """One volunteer: `duties` are their shifts in the published rota, in order of time.

    `trained` is their last self-check (None: none was taken under their number).
    """

    member: CrewMember
    person: Person
    trained: Training | None
    duties: tuple[DutyLine, ...]
    on_duty_s: int


class OfferLine(msgspec.Struct, frozen=True, kw_only=True):
    """Somebody who offered to help and waits, and when they did [ms, UTC]."""

    member: CrewMember
    person: Person
    at_ms: int


class PostCount(msgspec.Struct, frozen=True, kw_only=True):
    """How many of the crew can do a post, and how many of them have done it before."""

    post: str
    people: int
    experienced: int


def crew_lines(state: State, people: Mapping[str, Person]) -> tuple[CrewLine, ...]:
    """Return everybody of the crew, by name; somebody unknown goes by their number."""
    lines = [_line(state, member, people) for member in state.crew.values()]
    return tuple(sorted(lines, key=lambda one: (one.person.name.casefold(), one.member.person)))


def offer_lines(state: State, people: Mapping[str, Person]) -> tuple[OfferLine, ...]:
    """Return the offers that wait, the first first; somebody erased goes by their number."""
    return tuple(
        OfferLine(
            member=offer.member,
            person=people.get(person, Person(name=person)),
            at_ms=offer.at_ms,
        )
        for person, offer in sorted(state.offers.items(), key=lambda one: one[1].seq)
    )


def found(lines: tuple[CrewLine, ...], wanted: str, show: str) -> tuple[CrewLine, ...]:
    """Return those whose name, number or gym has `wanted` in it, and who fit `show`.

    `show` is a post they can do, ``free`` for those without a shift, or empty for all.
    """
    text = wanted.strip().casefold()
    return tuple(one for one in lines if _has(one, text) and _fits(one, show))


def post_counts(members: tuple[CrewMember, ...]) -> tuple[PostCount, ...]:
    """Return for each post how many of `members` can do it; also of posts that nobody can."""
    others = sorted({post for one in members for post in one.posts} - set(POSTS))
    return tuple(
        PostCount(
            post=post,
            people=sum(post in one.posts for one in members),
            experienced=sum(post in one.posts and one.experienced for one in members),
        )
        for post in (*POSTS, *others)
    )


def _line(state: State, member: CrewMember, people: Mapping[str, Person]) -> CrewLine:
    duties: tuple[DutyLine, ...] = ()
    on_duty_s = 0
    if state.rota is not None and state.plan is not None:
        day = person_day(state, state.rota, member.person, people)
        duties = tuple(line for line in day.lines if line.kind == "duty")
        on_duty_s = day.on_duty_s
    return CrewLine(
        member=member,
        person=people.get(member.person, Person(name=member.person)),
        trained=state.trained.get(member.person),
        duties=duties,
        on_duty_s=on_duty_s,
    )


def _has(line: CrewLine, text: str) -> bool:
    person = line.person
    return any(text in one.casefold() for one in (person.name, line.member.person, line.member.gym))


def _fits(line: CrewLine, show: str) -> bool:
    return not show or (not line.duties if show == "free" else show in line.member.posts)
