"""Letters to captains: you are in, this is still open, this is your day. Plain, warm, short."""

from collections.abc import Iterator
from gettext import NullTranslations

import msgspec

from callroom.model import Event, Refusal, State, Team
from callroom.model.person import Person
from callroom.model.post import LetterKind
from callroom.views import wording
from callroom.views.day_wording import day_clock
from callroom.views.money_wording import money
from callroom.views.paying import Payable
from callroom.views.team_day import TeamHeat, team_day
from callroom.views.teams_open import TeamOpen
from callroom.views.timetable import Audience
from callroom.views.wording import ENGLISH


class LetterText(msgspec.Struct, frozen=True, kw_only=True):
    """A letter's subject and body, ready to be sent or copied."""

    subject: str
    body: str


class Letter(msgspec.Struct, frozen=True, kw_only=True):
    """What a letter to one captain is made of.

    Attributes
    ----------
    open, pay
        What is open about the team, and how it pays (None: nothing to pay).
    link
        The team's own link; empty: it is left out.
    day_link
        Where the team's day stands for everybody; empty: left out.
    own_words
        A paragraph of the director's.
    """

    kind: LetterKind
    team: Team
    captain: Person
    open: TeamOpen
    pay: Payable | None = None
    link: str = ""
    day_link: str = ""
    own_words: str = ""


def letter_text(
    state: State, letter: Letter, audience: Audience, words: NullTranslations = ENGLISH
) -> LetterText:
    """Return a letter in the language of `words`.

    Raises
    ------
    Refusal
        Without an event; or, for the letter about the day, without a plan.
    """
    if state.event is None:
        raise Refusal("book.no_event")
    if letter.kind == "day" and state.plan is None:
        raise Refusal("plan.none")
    say = words.gettext
    name = letter.captain.name.split()[0] if letter.captain.name.split() else ""
    hello = say("Hello {name},").format(name=name) if name else say("Hello,")
    parts = [hello, *_body(state, state.event, letter, audience, words)]
    if letter.own_words.strip():
        parts.append(letter.own_words.strip())
    parts += _links(letter, words)
    parts.append(f"{_goodbye(letter, words)}\n{state.event.name}")
    return LetterText(
        subject=_subject(state.event, letter, words),
        body="\n\n".join(part for part in parts if part) + "\n",
    )


def _subject(event: Event, letter: Letter, words: NullTranslations) -> str:
    say = words.gettext
    if letter.kind == "day":
        text = say("{team}: your day at {event}")
    elif letter.kind == "reminder":
        text = say("{team}: still open for {event}")
    elif letter.open.waiting:
        text = say("{team}: on the waiting list of {event}")
    else:
        text = say("{team} is in: {event}")
    return text.format(team=letter.team.name, event=event.name)


def _body(
    state: State, event: Event, letter: Letter, audience: Audience, words: NullTranslations
) -> Iterator[str]:
    say = words.gettext
    facts = {
        "team": letter.team.name,
        "division": event.division(letter.team.division).name,
        "event": event.name,
        "day": wording.long_date(event.day, words),
        "venue": event.venue,
    }
    if letter.kind == "day":
        yield say("{day} at {venue}: this is your day with {team}.").format(**facts)
        yield _day(state, event, letter.team, audience, words)
        if not letter.open.nothing:
            yield _open(letter, event, words)
        return
    if letter.kind == "reminder":
        yield say("{event} is on {day}. For {team} this is still open:").format(**facts)
    elif letter.open.waiting:
        yield say(
            "Thank you for entering {team} ({division}) for {event} on {day}. It is on the waiting"
            " list: as soon as there is a place for it, we write. Nothing is to be paid before that."
        ).format(**facts)
        return
    else:
        yield say("{team} is in: {division} at {event}, {day}, {venue}.").format(**facts)
    yield _open(letter, event, words)
    yield _pay(letter.pay, event, words)


def _open(letter: Letter, event: Event, words: NullTranslations) -> str:
    """Return what is open as a list, or that nothing is."""
    one = letter.open
    lines = []
    if one.places_open:
        lines.append(
            words.ngettext(
                "One place of the line-up is free.",
                "{count} places of the line-up are free.",
                one.places_open,
            ).format(count=one.places_open)
        )
    if one.consents_missing:
        lines.append(
            words.ngettext(
                "One athlete has not agreed to the texts.",
                "{count} athletes have not agreed to the texts.",
                one.consents_missing,
            ).format(count=one.consents_missing)
        )
    if one.guardians_missing:
        lines.append(
            words.ngettext(
                "One guardian is not named.",
                "{count} guardians are not named.",
                one.guardians_missing,
            ).format(count=one.guardians_missing)
        )
    if one.details_missing:
        lines.append(
            words.ngettext(
                "Details of one athlete are missing.",
                "Details of {count} athletes are missing.",
                one.details_missing,
            ).format(count=one.details_missing)
        )
    if one.owed:
        owed = words.gettext("The fee: {amount}.")
        lines.append(owed.format(amount=money(one.owed, event.currency, words)))
    if not lines:
        return words.gettext("Nothing is open. You are ready.")
    listed = "\n".join(f"- {line}" for line in lines)
    if letter.kind == "reminder":
        return listed
    return "\n".join((words.gettext("Still open:"), listed))


def _pay(pay: Payable | None, event: Event, words: NullTranslations) -> str:
    if pay is None or not pay.missing or not (pay.iban or pay.to.words or pay.to.card_link):
        return ""
    say = words.gettext
    lines = [say("How to pay {amount}:").format(amount=money(pay.missing, event.currency, words))]
    if pay.iban:
        lines.append(
            say("By transfer to {name}, {iban}, with the reference “{reference}”.").format(
                name=pay.to.name, iban=pay.iban, reference=pay.reference
            )
        )
    else:
        lines.append(
            say("Please give the reference “{reference}”.").format(reference=pay.reference)
        )
    if pay.to.words:
        lines.append(pay.to.words)
    if pay.to.card_link:
        lines.append(say("By card: {link}").format(link=pay.to.card_link))
    return "\n".join(lines)


def _day(
    state: State, event: Event, team: Team, audience: Audience, words: NullTranslations
) -> str:
    heats = team_day(state, team.id, audience).heats
    if not heats:
        return words.gettext("Your heats are not planned yet.")
    return "\n".join(_heat(event, one, words) for one in heats)


def _heat(event: Event, one: TeamHeat, words: NullTranslations) -> str:
    title = one.heat.workout
    name = title.name or words.gettext("Workout {number}").format(number=title.number)
    return words.gettext("{start} {workout}: {floor}, lane {lane}. Be there at {report}.").format(
        start=day_clock(event, one.heat.start_s),
        workout=name,
        floor=one.floor,
        lane=one.lane,
        report=wording.clock(event.instant(one.heat.report_s), event.zone),
    )


def _links(letter: Letter, words: NullTranslations) -> list[str]:
    say = words.gettext
    lines = []
    if letter.link:
        told = say("Your team's own page, for you and your athletes only:")
        lines.append(f"{told}\n{letter.link}")
    if letter.day_link and letter.kind == "day":
        told = say("Times may still change. How they stand now:")
        lines.append(f"{told}\n{letter.day_link}")
    return lines


def _goodbye(letter: Letter, words: NullTranslations) -> str:
    if letter.open.waiting:
        return words.gettext("Fingers crossed!")
    return words.gettext("See you there!")
