"""What is personal is on no public page, stream, copy or shared export, whoever made the page.

Every person, note, draft, letter, attachment and secret of a book is given words that stand
nowhere else, and then every address is read: by a stranger and by every role over the venue's
network, where others can read along.
"""

import asyncio
import itertools
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import msgspec
import pytest

from callroom.bootstrap.exporting import export_files
from callroom.bootstrap.open_book import OpenBook
from callroom.journal import NOTES, PEOPLE
from callroom.journal.store.side import ATTACHMENTS, DRAFTS, OUTBOX, SECRETS, Attachment
from callroom.model.person import Note, Person
from callroom.web.settings import WebSettings
from tests.fuzz.interface import ROLES, real_book, schema
from tests.web.building import client_of

pytestmark = pytest.mark.store

MARK = "Zwölfelhuber"
HALL = "192.168.7.20"


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[OpenBook, Any]]:
    with real_book(tmp_path_factory.mktemp("planted")) as (book, tokens):
        store = book.store
        for team in book.state.teams.values():
            for athlete in team.athletes:
                store.side(PEOPLE).put(athlete.person, _person(athlete.person))
                note = Note(text=f"{MARK} note", author=MARK, at_ms=book.now_ms())
                store.side(NOTES).put(f"{athlete.person}/1", note)
        for member in book.state.crew:
            store.side(PEOPLE).put(member, _person(member))
        store.side(DRAFTS).put("draft/1", MARK.encode())
        store.side(OUTBOX).put("letter/1", MARK.encode())
        store.side(SECRETS).put("label/device-1", MARK.encode())
        file = Attachment(name=f"{MARK}.png", media_type="image/png", content=MARK.encode())
        store.side(ATTACHMENTS).put("p1/1", file)
        yield book, tokens


def _person(known_as: str) -> Person:
    """A person every text of which can be found again."""
    given: dict[str, Any] = {}
    for field in msgspec.structs.fields(Person):
        if field.type is str:
            given[field.name] = f"{MARK} {field.name} {known_as}"
    return Person(**{**given, "birth_date": date(1901, 2, 3)})


def addresses(book: OpenBook) -> list[str]:
    """Every address that can be read, with all that its blanks can hold in this book."""
    state = book.state
    event = state.event
    assert event is not None
    assert state.plan is not None
    heats = [heat.id for heat in state.plan.heats][:3]
    some: Mapping[str, list[str]] = {
        "team_id": list(state.teams)[:3],
        "division_id": [one.id for one in event.divisions],
        "division": [one.id for one in event.divisions],
        "workout_id": [one.id for one in event.workouts],
        "part_id": [part.id for one in event.workouts for part in one.parts][:2],
        "movement_id": sorted({task.movement for task in _tasks(event)})[:3],
        "floor_id": [one.id for one in event.floors],
        "floor": [one.id for one in event.floors],
        "heat_id": heats,
        "heat": heats,
        "topic": ["now", "board", "screen", "announcer", "timetable", "raised"]
        + [f"standings/{one.id}" for one in event.divisions]
        + [f"team/{team}" for team in list(state.teams)[:2]],
        "person": [*list(state.crew)[:2], next(iter(state.teams.values())).athletes[0].person],
    }
    found = []
    for path, methods in schema()["paths"].items():
        if "get" not in methods or path.startswith(("/live/", "/static/")):
            continue
        blanks = [part[1:-1] for part in path.split("/") if part.startswith("{")]
        for values in itertools.product(*(some.get(blank, ["1"])[:3] for blank in blanks)):
            filled = path
            for blank, value in zip(blanks, values, strict=True):
                filled = filled.replace(f"{{{blank}}}", value)
            found.append(filled)
    return found


def _tasks(event: Any) -> Iterator[Any]:
    for workout in event.workouts:
        for part in workout.parts:
            for block in part.blocks:
                yield from block.tasks


def test_the_marks_can_be_found_where_they_belong(planted: tuple[OpenBook, Any]) -> None:
    book, tokens = planted
    with client_of(book, settings=WebSettings(port=8000)) as client:
        client.cookies.set("callroom-8000", tokens["director"])
        assert MARK in client.get("/director/people").text


@pytest.mark.parametrize("role", ["public", *ROLES])
def test_over_the_venues_network_nobody_is_shown_anything_personal(
    planted: tuple[OpenBook, Any], role: str
) -> None:
    book, tokens = planted
    settings = WebSettings(port=8000, hosts=("192.168.7.1",))
    seen = 0
    with client_of(
        book, settings=settings, peer=HALL, base_url="http://192.168.7.1:8000"
    ) as client:
        if tokens[role]:
            client.cookies.set("callroom-8000", tokens[role])
        for address in addresses(book):
            answer = client.get(address, follow_redirects=False)
            assert answer.status_code < 500, address
            assert MARK.encode() not in answer.content, address
            assert MARK not in str(answer.headers), address
            assert b"1901-02-03" not in answer.content, address
            seen += answer.status_code == 200
    assert seen > 25


def test_no_live_topic_shows_anything_personal(planted: tuple[OpenBook, Any]) -> None:
    book, _ = planted
    with client_of(book) as client:
        hub = client.house.hub
        names = ["now", "board", "board/floor", "board/desk", "screen", "announcer", "timetable"]
        names += ["raised", "pad/heats"]
        assert book.state.event is not None
        names += [f"standings/{one.id}" for one in book.state.event.divisions]
        names += [f"stake/{one.id}" for one in book.state.event.divisions]
        names += [f"team/{team}" for team in book.state.teams]
        names += [
            f"{kind}/{one.id}" for one in book.state.event.floors for kind in ("clock", "floor")
        ]
        drawn = 0
        for name in names:
            frame = asyncio.run(hub.frame(name))
            assert frame is None or MARK not in frame.text, name
            drawn += frame is not None
    assert drawn > 20


def test_an_export_made_to_share_and_the_journal_hold_nothing_personal(
    planted: tuple[OpenBook, Any], tmp_path: Path
) -> None:
    book, _ = planted
    shared = tmp_path / "shared.book"
    book.store.backup(shared, share=True)
    assert MARK.encode() not in shared.read_bytes()
    for file in export_files(shared, tmp_path / "out", share=True):
        assert MARK.encode() not in file.read_bytes(), file
    journal = "".join(entry.data.decode() for entry in book.store.entries())
    assert MARK not in journal
