"""The form of a team as it was typed: what stands in its fields, and what is wrong beside which."""

from collections.abc import Mapping
from datetime import date

import msgspec

from callroom.model import Athlete, Event, Finding, State, Team
from callroom.model.person import Person
from callroom.views.entry_form import FormPlace, form_places
from callroom.views.teams_open import captain_of
from callroom.web.forms.posted import Posted

TEAM_FIELDS = ("team", "gym", "say_it", "email", "phone", "captain", "entry_rank")
TRAP = "website"
"""A field that no person sees; who fills it in is a program."""


class TeamForm(msgspec.Struct, frozen=True, kw_only=True):
    """One team's form.

    Attributes
    ----------
    places
        Where athletes are named, in order.
    texts
        What stands in the fields, by name; a box that is ticked has any text.
    faults
        What is wrong, by the field it stands beside.
    agreed
        The places whose athletes have agreed to the text in force already.
    without
        The names of athletes for whom the division, as it now is, has no place.
    """

    places: tuple[FormPlace, ...]
    texts: Mapping[str, str]
    faults: Mapping[str, Finding] = {}
    agreed: frozenset[str] = frozenset()
    without: tuple[str, ...] = ()

    def text(self, name: str) -> str:
        """Return what stands in a field; empty if nothing does."""
        return self.texts.get(name, "")

    def fault(self, name: str) -> Finding | None:
        """Return what is wrong with a field, or None."""
        return self.faults.get(name)


def blank_form(event: Event, division_id: str) -> TeamForm:
    """Return the form of a division with nothing in it."""
    places = form_places(event, event.division(division_id))
    return TeamForm(places=places, texts={"captain": places[0].place})


def posted_team(event: Event, division_id: str, form: Posted) -> TeamForm:
    """Return a form as it was posted."""
    return TeamForm(places=form_places(event, event.division(division_id)), texts=form.texts)


def form_of(state: State, event: Event, team: Team, people: Mapping[str, Person]) -> TeamForm:
    """Return the form of a team as it is known.

    Somebody at a place that its division does not have (it was moved) stands at the next free
    one of their category, or else as a reserve.
    """
    places = form_places(event, event.division(team.division))
    held = seated(places, team.athletes)
    captain, contact = captain_of(team, people)
    texts = {
        "team": team.name,
        "gym": team.gym,
        "say_it": team.say_it,
        "email": contact.email,
        "phone": contact.phone,
        "entry_rank": str(team.entry_rank) if team.entry_rank is not None else "",
        "captain": next((place for place, one in held.items() if one.person == captain), "A"),
    }
    terms = state.terms[-1].number if state.terms else 0
    agreed = set()
    for place, athlete in held.items():
        person = people.get(athlete.person)
        if person is not None:
            texts |= _texts_of(place, athlete, person)
            if person.waiver or (person.agreed is not None and person.agreed.terms == terms):
                agreed.add(place)
    seats = {one.person for one in held.values()}
    lost = [one.person for one in team.athletes if one.person not in seats]
    names = tuple(people[one].name if one in people else one for one in lost)
    return TeamForm(places=places, texts=texts, agreed=frozenset(agreed), without=names)


def seated(places: tuple[FormPlace, ...], athletes: tuple[Athlete, ...]) -> dict[str, Athlete]:
    """Return who stands at which place of the form."""
    held: dict[str, Athlete] = {}
    left = list(athletes)
    for fits in (_same_place, _same_category, _any_reserve):
        for place in places:
            found = next((one for one in left if fits(place, one)), None)
            if place.place not in held and found is not None:
                held[place.place] = found
                left.remove(found)
    return held


def _same_place(place: FormPlace, athlete: Athlete) -> bool:
    return place.place == athlete.place and _same_category(place, athlete)


def _same_category(place: FormPlace, athlete: Athlete) -> bool:
    fits = place.category in {"", athlete.category}
    return fits and place.reserve == athlete.reserve


def _any_reserve(place: FormPlace, athlete: Athlete) -> bool:
    return place.reserve and place.category in {"", athlete.category}


def _texts_of(place: str, athlete: Athlete, person: Person) -> dict[str, str]:
    texts = {
        f"name-{place}": person.name,
        f"category-{place}": athlete.category,
        f"born-{place}": _day(person.birth_date),
        f"guardian-{place}": person.guardian,
        f"emergency-{place}": person.emergency_contact,
        f"shirt-{place}": person.shirt,
    }
    if person.minor:
        texts[f"minor-{place}"] = "on"
    if person.waiver:
        texts[f"paper-{place}"] = "on"
    return texts


def _day(day: date | None) -> str:
    return day.isoformat() if day is not None else ""
