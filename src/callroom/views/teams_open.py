"""What is still open about each team before the day: line-up, consents, contacts, the fee."""

from collections.abc import Iterator, Mapping
from datetime import date
from typing import Literal

import msgspec

from callroom.model import Event, State, Team
from callroom.model.entering import Entering, Terms
from callroom.model.person import Person
from callroom.views.entry_fees import EntryFee, entry_fees

Consent = Literal["given", "older", "missing", "not_asked"]


class AthleteOpen(msgspec.Struct, frozen=True, kw_only=True):
    """What is open about one athlete, by the id of the person.

    Attributes
    ----------
    consent
        ``given`` on a page or at the desk, to an ``older`` text than the one in force,
        ``missing``, or ``not_asked`` since the director supplied no text.
    minor
        Whether they are under age on the day; None: nobody said.
    """

    person: str
    place: str
    category: str
    reserve: bool
    named: bool
    consent: Consent
    minor: bool | None
    guardian_missing: bool
    birth_missing: bool
    emergency_missing: bool
    shirt_missing: bool


class TeamOpen(msgspec.Struct, frozen=True, kw_only=True):
    """What is open about one team.

    Attributes
    ----------
    athletes
        Its squad, in the order entered.
    places_open
        How many places of the line-up nobody has yet.
    owed
        What is still to be paid [minor units].
    no_contact
        Nobody of the team can be written to.
    waiting
        It is on the waiting list, not in the event.
    """

    team: str
    name: str
    division: str
    athletes: tuple[AthleteOpen, ...]
    places_open: int
    owed: int
    no_contact: bool
    waiting: bool = False

    @property
    def consents_missing(self) -> int:
        """How many athletes have not agreed to the text in force."""
        return sum(one.consent in {"missing", "older"} for one in self.athletes)

    @property
    def guardians_missing(self) -> int:
        """How many minors have no guardian named."""
        return sum(one.guardian_missing for one in self.athletes)

    @property
    def details_missing(self) -> int:
        """How many athletes lack a birth date, an emergency contact or a size that is asked for."""
        return sum(
            one.birth_missing or one.emergency_missing or one.shirt_missing for one in self.athletes
        )

    @property
    def nothing(self) -> bool:
        """Whether nothing is open."""
        counts = (
            self.places_open,
            self.consents_missing,
            self.guardians_missing,
            self.details_missing,
            self.owed,
        )
        return not any(counts) and not self.no_contact


def teams_open(state: State, people: Mapping[str, Person]) -> tuple[TeamOpen, ...]:
    """Return what is open about every team that is in, then about those that wait in turn.

    Parameters
    ----------
    people
        Everybody the book knows, by id; so what comes out is for private pages only.
    """
    fees = {fee.team: fee for fee in entry_fees(state)}
    waiting = sorted(
        (one for one in state.enrolments.values() if one.status == "waiting"),
        key=lambda one: one.seq,
    )
    return (
        *(
            team_open(state, people, team, fees.get(team.id))
            for team in state.teams.values()
            if team.id not in state.team_status
        ),
        *(team_open(state, people, one.team, None) for one in waiting),
    )


def team_open(
    state: State, people: Mapping[str, Person], team: Team, fee: EntryFee | None
) -> TeamOpen:
    """Return what is open about one team; `fee` is None for one that need not pay yet."""
    event = state.event
    division = None
    if event is not None:
        division = next((one for one in event.divisions if one.id == team.division), None)
    size = division.team_size if division is not None else 0
    return TeamOpen(
        team=team.id,
        name=team.name,
        division=team.division,
        athletes=tuple(_athletes(state, people, team)),
        places_open=max(0, size - len(team.on_floor)),
        owed=fee.missing if fee is not None else 0,
        no_contact=not captain_of(team, people)[1].email,
        waiting=team.id not in state.teams,
    )


def shirts_wanted(state: State, people: Mapping[str, Person]) -> tuple[tuple[str, int], ...]:
    """Return how many shirts of each size the teams that are in want, last those not said.

    An empty size stands for those; nothing comes out where nobody is asked.
    """
    sizes = state.entering.shirt_sizes
    if not sizes:
        return ()
    wanted = dict.fromkeys(sizes, 0)
    unsaid = 0
    for team in state.teams.values():
        if team.id in state.team_status:
            continue
        for athlete in team.athletes:
            person = people.get(athlete.person)
            if person is not None and person.shirt:
                wanted[person.shirt] = wanted.get(person.shirt, 0) + 1
            else:
                unsaid += 1
    return (*wanted.items(), *([("", unsaid)] if unsaid else []))


def captain_of(team: Team, people: Mapping[str, Person]) -> tuple[str, Person]:
    """Return who letters to a team go to: its captain, else the first with an e-mail address.

    The id is empty, and the person has neither name nor address, where there is nobody.
    """
    ids = [team.captain, *(athlete.person for athlete in team.athletes)]
    known = [(id_, people[id_]) for id_ in ids if id_ in people]
    nobody = ("", Person(name=""))
    return next((one for one in known if one[1].email), known[0] if known else nobody)


def age_on(born: date, day: date) -> int:
    """Return the whole years of age on a day; one born on 29 February turns on 1 March."""
    return day.year - born.year - ((day.month, day.day) < (born.month, born.day))


def is_minor(person: Person, event: Event, entering: Entering) -> bool | None:
    """Return whether somebody is under age on the event's day; None: nobody said either way."""
    if person.birth_date is not None:
        return age_on(person.birth_date, event.day) < entering.adult_age
    return True if person.minor else None


def _athletes(state: State, people: Mapping[str, Person], team: Team) -> Iterator[AthleteOpen]:
    entering = state.entering
    terms = state.terms[-1] if state.terms else None
    for athlete in team.athletes:
        person, signed = people.get(athlete.person), state.signed.get(athlete.person)
        known = person if person is not None else Person(name="")
        minor = is_minor(known, state.event, entering) if state.event is not None else None
        yield AthleteOpen(
            person=athlete.person,
            place=athlete.place,
            category=athlete.category,
            reserve=athlete.reserve,
            named=bool(known.name),
            consent="given" if signed is not None else _consent(known, terms),
            minor=minor,
            guardian_missing=bool(minor)
            and not known.guardian
            and (signed is None or signed.by != "guardian"),
            birth_missing=team.division in entering.ages_in and known.birth_date is None,
            emergency_missing=not known.emergency_contact,
            shirt_missing=bool(entering.shirt_sizes) and not known.shirt,
        )


def _consent(person: Person, terms: Terms | None) -> Consent:
    if terms is None or not (terms.consent or terms.waiver):
        return "given" if person.waiver else "not_asked"
    if person.waiver:
        return "given"
    if person.agreed is None:
        return "missing"
    return "given" if person.agreed.terms == terms.number else "older"
