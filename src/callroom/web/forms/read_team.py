"""From a team's form to the team and its people; every fault at once, beside its field."""

import difflib
import re
import unicodedata
from collections.abc import Mapping
from datetime import date
from typing import Literal

import msgspec
from msgspec.structs import replace

from callroom.bootstrap.team_links import person_id
from callroom.model import Athlete, Event, Finding, State, Team
from callroom.model.person import Agreed, Person
from callroom.views.entry_form import FormPlace
from callroom.views.team_doubles import plain
from callroom.views.teams_open import age_on, is_minor
from callroom.web.forms.team_form import TRAP, TeamForm, seated

LONGEST_NAME = 80
LONGEST = 200
# A typing error is put right; another person takes the place. Common practice, no source.
_SAME_PERSON = 0.75
_EMAIL = re.compile(r"[^@\s,;<>\"]+@[^@\s,;<>\"]+\.[^@\s,;<>\"]+")
_OLDEST, _YOUNGEST = 110, 4
_UNSEEN = frozenset({"Cc", "Cs", "Zl", "Zp"})
# Marks that turn the direction of what follows. Source: Unicode Standard Annex #9, section 2.
_TURNING = frozenset({"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"})

Hand = Literal["form", "team", "director"]
"""Who fills the form in: a new team, a team by its link, or the director."""


class Filled(msgspec.Struct, frozen=True, kw_only=True):
    """A form that was read: the team, its people by id, and who is in no team any more."""

    team: Team
    people: Mapping[str, Person]
    gone: tuple[str, ...]
    faults: Mapping[str, Finding]


class TeamReader:
    """Reads one form against the book as it stands."""

    def __init__(
        self, state: State, event: Event, form: TeamForm, *, key: str, hand: Hand, now_ms: int
    ) -> None:
        """Read `form`; `key` is its own, from which new people get their ids."""
        self._state, self._event, self._form = state, event, form
        self._key, self._hand, self._now_ms = key, hand, now_ms
        self._faults: dict[str, Finding] = {}
        self._people: dict[str, Person] = {}
        terms = state.terms[-1] if state.terms else None
        self._terms = terms if terms is not None and (terms.consent or terms.waiver) else None

    def read(self, before: Team, known: Mapping[str, Person]) -> Filled:
        """Return what the form says; `before` is the team as it is, or an empty one of its id."""
        if self._form.text(TRAP):
            self._fault(TRAP, "form.trap")
        name = self._text("team", most=LONGEST_NAME)
        if not name:
            self._fault("team", "form.no_team_name")
        held = seated(self._form.places, before.athletes)
        lost = len(before.athletes) - len(held)
        if lost and self._hand != "director":
            self._fault("team", "form.without_place", count=lost)
        athletes = tuple(
            athlete
            for place in self._form.places
            if (athlete := self._athlete(place, held.get(place.place), before, known)) is not None
        )
        captain = self._captain(athletes)
        left = {one.person for one in before.athletes} - {one.person for one in athletes}
        team = replace(
            before,
            name=name,
            gym=self._text("gym", most=LONGEST_NAME),
            say_it=self._text("say_it", most=LONGEST_NAME),
            athletes=athletes,
            captain=captain,
            entry_rank=self._rank(before),
        )
        return Filled(team=team, people=self._people, gone=tuple(left), faults=self._faults)

    def _rank(self, before: Team) -> int | None:
        if self._hand != "director":
            return before.entry_rank
        text = self._form.text("entry_rank").strip()
        if not text:
            return None
        if text.isascii() and text.isdigit() and int(text[:6]) > 0 and len(text) <= 6:
            return int(text)
        self._fault("entry_rank", "form.no_rank", given=text[:20])
        return None

    def _athlete(
        self,
        place: FormPlace,
        held: Athlete | None,
        before: Team,
        known: Mapping[str, Person],
    ) -> Athlete | None:
        at = place.place
        name = self._text(f"name-{at}", most=LONGEST_NAME)
        if not name:
            if any(self._form.text(f"{one}-{at}").strip() for one in ("born", "emergency")):
                self._fault(f"name-{at}", "form.no_name")
            return None
        was = known.get(held.person) if held is not None else None
        if held is not None and was is not None and _is_same(was.name, name):
            id_ = held.person
        else:
            id_, was = person_id(f"{self._key}/{before.id}", at), Person(name=name)
        category = place.category or self._category(at)
        self._people[id_] = self._person(at, was, name, before.division)
        return Athlete(place=at, category=category, person=id_, reserve=place.reserve)

    def _category(self, at: str) -> str:
        given = self._form.text(f"category-{at}")
        if given in {one.id for one in self._event.categories}:
            return given
        self._fault(f"category-{at}", "form.no_category")
        return self._event.categories[0].id

    def _person(self, at: str, was: Person, name: str, division: str) -> Person:
        entering = self._state.entering
        needs_age = division in entering.ages_in
        born = self._born(at) if needs_age else was.birth_date
        shirt = self._form.text(f"shirt-{at}")
        person = replace(
            was,
            name=name,
            birth_date=born,
            minor=f"minor-{at}" in self._form.texts if not needs_age else was.minor,
            guardian=self._text(f"guardian-{at}"),
            emergency_contact=self._text(f"emergency-{at}"),
            shirt=shirt if shirt in entering.shirt_sizes else was.shirt,
        )
        if self._hand == "director":
            signed = was.waiver or "on paper"
            person = replace(person, waiver=signed if f"paper-{at}" in self._form.texts else "")
        return self._agreed(at, person)

    def _born(self, at: str) -> date | None:
        text = self._form.text(f"born-{at}").strip()
        if not text:
            return None
        parts = text.rstrip(".").split(".")
        turned = "-".join(part.strip().zfill(2) for part in reversed(parts))
        try:
            born = date.fromisoformat(turned if len(parts) == 3 else text)
        except ValueError:
            self._fault(f"born-{at}", "form.no_date", given=text[:20])
            return None
        if not _YOUNGEST <= age_on(born, self._event.day) <= _OLDEST:
            self._fault(f"born-{at}", "form.odd_date", given=text[:20])
        return born

    def _agreed(self, at: str, person: Person) -> Person:
        minor = bool(is_minor(person, self._event, self._state.entering))
        ticked = f"agree-{at}" in self._form.texts and self._terms is not None
        is_captain = self._form.text("captain") == at
        if ticked and minor and not person.guardian:
            self._fault(f"guardian-{at}", "form.no_guardian")
        if self._terms is None or not ticked:
            if self._terms is not None and is_captain and self._hand == "form":
                self._fault(f"agree-{at}", "form.not_agreed")
            return person
        by: Literal["self", "captain", "guardian"] = "self" if is_captain else "captain"
        agreed = Agreed(
            terms=self._terms.number, at_ms=self._now_ms, by="guardian" if minor else by
        )
        return replace(person, agreed=agreed)

    def _captain(self, athletes: tuple[Athlete, ...]) -> str:
        """Return the captain's id, and keep how they are reached."""
        at = self._form.text("captain")
        captain = next((one.person for one in athletes if one.place == at), "")
        email, phone = self._text("email"), self._text("phone", most=40)
        if email and not _EMAIL.fullmatch(email):
            self._fault("email", "form.no_email", given=email[:60])
        elif not email and self._hand != "director":
            self._fault("email", "form.email_missing")
        if not captain:
            if self._hand != "director" or email or phone:
                known = [place.place for place in self._form.places]
                self._fault(f"name-{at if at in known else known[0]}", "form.no_captain")
            return ""
        self._people[captain] = replace(self._people[captain], email=email, phone=phone)
        return captain

    def _text(self, name: str, most: int = LONGEST) -> str:
        """Return a field in one line, without what cannot be seen."""
        text = unicodedata.normalize("NFC", self._form.text(name))
        seen = "".join(
            " " if unicodedata.category(sign) in _UNSEEN or _turns(sign) else sign for sign in text
        )
        found = " ".join(seen.split())
        if len(found) > most:
            self._fault(name, "form.too_long", length=len(found), most=most)
        return found[:most]

    def _fault(self, field: str, rule: str, **facts: str | int) -> None:
        found = Finding(rule=rule, severity="error", subject=field, facts=facts)
        self._faults.setdefault(field, found)


def _turns(sign: str) -> bool:
    return unicodedata.bidirectional(sign) in _TURNING


def _is_same(before: str, now: str) -> bool:
    one, other = plain(before), plain(now)
    return one == other or difflib.SequenceMatcher(None, one, other).ratio() >= _SAME_PERSON
