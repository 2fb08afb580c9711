"""A book of 120 teams for the benchmark of pages: the demonstration's event, made larger."""

import itertools
from pathlib import Path

from msgspec.structs import replace

from callroom.actions.planned import publish_plan_with_rota
from callroom.actions.planning import limits, plan_request
from callroom.actions.request import propose
from callroom.bootstrap.books import AT_THE_KEYBOARD, new_book, open_book
from callroom.bootstrap.demonstration import load_demo
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.planning import plan_apart
from callroom.bootstrap.rota_making import made_for
from callroom.journal import PEOPLE
from callroom.journal.entries import bodies
from callroom.model import Event, Team
from callroom.model.person import Person

FIRST = (
    "Amber",
    "Brisk",
    "Copper",
    "Dusty",
    "Early",
    "Frosty",
    "Gentle",
    "Hollow",
    "Idle",
    "Jolly",
)
SECOND = ("Anvils", "Badgers", "Candles", "Doors", "Engines", "Ferries")
THIRD = ("North", "South")
LANES = 3
"""Floors have so many times the demonstration's lanes, and there is so much more kit and crew."""


def names() -> list[str]:
    """Return 120 invented names of teams."""
    every = itertools.product(THIRD, SECOND, FIRST)
    return [f"{first} {second} {third}" for third, second, first in every]


def make_book(path: Path, *, teams: int, plan_s: int) -> None:
    """Make a book of so many teams at `path`, planned in `plan_s` seconds, with its rota."""
    new_book(path)
    load_demo(path)
    book = open_book(path)
    try:
        _enlarge(book, teams)
        reply = plan_apart(plan_request(book.state, limits(plan_s)))
        if reply.plan is None:
            raise SystemExit(f"the day of the benchmark cannot be planned: {reply.findings}")
        rota = made_for(book.state, reply.plan, search=False)
        asked = publish_plan_with_rota(reply.plan, rota, book.state.rota_rules)
        book.ask_now(AT_THE_KEYBOARD, asked, key="plan")
    finally:
        book.close()


def _enlarge(book: OpenBook, count: int) -> None:
    event, before = book.state.event, tuple(book.state.teams.values())
    if event is None:
        raise SystemExit("the demonstration has no event")
    people = book.people()
    made: list[Team] = []
    beside = []
    for number, name in enumerate(names()[: count - len(before)]):
        model = before[number % len(before)]
        athletes = tuple(replace(one, person=f"b{number}-{one.place}") for one in model.athletes)
        made.append(
            replace(
                model, id=f"B{number:03}", name=name, athletes=athletes, entry_rank=None, captain=""
            )
        )
        for new, old in zip(athletes, model.athletes, strict=True):
            known = people.get(old.person, Person(name=f"Invented {new.person}"))
            beside.append(PEOPLE.put(new.person, known))
    kit = tuple(replace(one, count=one.count * LANES) for one in book.state.kit)
    crew = tuple(
        replace(one, person=f"{one.person}-{again}")
        for again in range(1, LANES)
        for one in book.state.crew.values()
    )
    asked = propose(
        bodies.EventSet(event=_larger(event)),
        *(bodies.TeamSet(team=team) for team in made),
        *(bodies.CrewSet(member=one) for one in crew),
        bodies.KitSet(items=kit),
    )
    book.ask_now(AT_THE_KEYBOARD, asked, key="enlarge", beside=tuple(beside))


def _larger(event: Event) -> Event:
    return replace(
        event,
        floors=tuple(replace(one, lanes=one.lanes * LANES) for one in event.floors),
        divisions=tuple(replace(one, team_limit=0) for one in event.divisions),
    )
