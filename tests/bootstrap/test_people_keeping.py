"""Somebody's details: given to them, erased when asked, by themselves when their day has come."""

import json
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import msgspec
import pytest
from msgspec.structs import replace

from callroom.actions import day as ask
from callroom.actions import money
from callroom.actions.load import load
from callroom.actions.money_start import starter_budget
from callroom.actions.request import propose
from callroom.bootstrap.books import AT_THE_KEYBOARD, back_up, open_book, verify_book
from callroom.bootstrap.clocks import SteppedClock
from callroom.bootstrap.exporting import export_files
from callroom.bootstrap.people_keeping import is_due
from callroom.journal import ATTACHMENTS, NOTES, OUTBOX, PEOPLE, SECRETS, Attachment
from callroom.journal.entries import bodies
from callroom.model import State
from callroom.model.money import Received
from callroom.model.person import EVERYONE, Agreed, Note, Person
from callroom.model.post import OutLetter
from callroom.views.held import erase_on, held
from tests.actions.day_building import EVENT, TEAMS, report
from tests.bootstrap.day_books import START_MS, day_book
from tests.journal.disk import bytes_beside

pytestmark = pytest.mark.store

DAY_MS = 86_400_000
REAL = replace(EVENT, invented=False)
WHATS = ("Name", "Mail", "Phone", "Kin", "Waiver", "Sick", "Note", "Shirt", "Guardian", "Letter")
MARKS = [f"Marked{what}" for what in WHATS]
TYPED = ("TypedLabel", "MailPassword", "FeeAccount")
LETTER = OutLetter(
    id="l1",
    team="T1",
    kind="reminder",
    to="MarkedMail",
    subject="Still open",
    body="MarkedLetter",
    made_ms=START_MS,
    generation=1,
)
SOMEBODY = Person(
    name="MarkedName",
    email="MarkedMail",
    phone="MarkedPhone",
    emergency_contact="MarkedKin",
    waiver="MarkedWaiver",
    medical_note="MarkedSick",
    agreed=Agreed(terms=1, at_ms=START_MS, by="self"),
    guardian="MarkedGuardian",
    shirt="MarkedShirt",
)


def known_book(path: Path) -> str:
    """A book whose first athlete is somebody with a score, a note and a file; gives their id."""
    athlete = TEAMS[0].athletes[0].person
    with closing(day_book(path)) as book:
        # The people of an invented event would be nobody.
        book.ask_now(AT_THE_KEYBOARD, load(book.state, event=REAL, teams=TEAMS), key="real")
        book.ask_now(AT_THE_KEYBOARD, ask.report_score(report("w1-1", "T1", 300_000)), key="score")
        book.store.write(
            PEOPLE.put(athlete, SOMEBODY),
            PEOPLE.put("giver-1", Person(name="KeptGiver")),
            NOTES.put(f"{athlete}/1", Note(text="MarkedNote", author="desk", at_ms=START_MS)),
            OUTBOX.put(f"{athlete}/l1", msgspec.json.encode(LETTER)),
            SECRETS.put("label/phone-1", b"TypedLabel"),
            SECRETS.put("post/server", b"MailPassword"),
            SECRETS.put("entering/pay", b"FeeAccount"),
            NOTES.put("incident/1", Note(text="IncidentNote", author="desk", at_ms=START_MS)),
            ATTACHMENTS.put(
                f"{athlete}/waiver",
                Attachment(name="w", media_type="image/png", content=b"MarkedScan" * 900),
            ),
        ).result()
    return athlete


def everywhere(path: Path, folder: Path) -> bytes:
    """Every byte of the book, its log, a dump, every export and a shared copy."""
    export_files(path, folder / "files")
    export_files(path, folder / "shared", share=True)
    files = b"".join(one.read_bytes() for one in folder.rglob("*") if one.is_file())
    return bytes_beside(path) + files


def test_a_person_takes_everything_away_and_then_is_gone_everywhere(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    athlete = known_book(path)
    back_up(path, tmp_path / "copy.book")
    assert b"MarkedName" in everywhere(path, tmp_path / "before")
    with closing(open_book(path, clock=SteppedClock(START_MS))) as book:
        taken = json.loads(book.personal.file(athlete))
        assert taken["person"]["medical_note"] == "MarkedSick"
        assert [note["text"] for note in taken["notes"]] == ["MarkedNote"]
        assert taken["teams"]
        sheets = book.state.sheets
        erased = book.personal.erase(AT_THE_KEYBOARD, athlete, "erase")
        assert (erased.complete, erased.backups) == (True, (str(tmp_path / "copy.book"),))
        assert book.personal.file(athlete) == b""
        assert book.state.sheets == sheets
        assert tuple(book.state.teams.values()) == TEAMS
    found = everywhere(path, tmp_path / "after")
    for mark in (*MARKS, "MarkedScan"):
        assert mark.encode() not in found
    assert b"KeptGiver" in found
    assert b"MarkedName" in (tmp_path / "copy.book").read_bytes()
    assert verify_book(path) == []


def test_what_was_decided_is_done_at_the_next_opening(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    athlete = known_book(path)
    with closing(open_book(path, clock=SteppedClock(START_MS))) as book:
        # The power goes between the decision and the deed.
        decided = propose(bodies.PersonErased(person=athlete))
        book.ask_now(AT_THE_KEYBOARD, decided, key="erase")
        assert book.people()[athlete].name == "MarkedName"
    with closing(open_book(path, clock=SteppedClock(START_MS))) as book:
        assert athlete not in book.people()
        # Entered anew later, they are not taken away again.
        book.store.side(PEOPLE).put(athlete, Person(name="Came back"))
    with closing(open_book(path, clock=SteppedClock(START_MS))) as book:
        assert book.people()[athlete].name == "Came back"


def test_everybody_goes_when_the_day_has_come_but_not_before(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    athlete = known_book(path)
    keep_days = EVENT.rules.keep_people_days
    assert keep_days is not None
    for days, gone in ((keep_days, False), (keep_days + 1, True)):
        clock = SteppedClock(START_MS + days * DAY_MS)
        with closing(open_book(path, clock=clock)) as book:
            assert (athlete not in book.people()) == gone
            assert (EVERYONE in book.state.erased) == gone
    found = everywhere(path, tmp_path / "after")
    for mark in (*MARKS, "MarkedScan", "IncidentNote", "KeptGiver", *TYPED):
        assert mark.encode() not in found
    assert verify_book(path) == []


def test_a_clock_that_ran_away_erases_nobody(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    athlete = known_book(path)
    with closing(open_book(path, clock=SteppedClock(START_MS + 20 * 365 * DAY_MS))) as book:
        assert athlete in book.people()


def test_who_is_in_the_accounts_stays(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    athlete = known_book(path)
    budget = starter_budget(EVENT)
    line = next(one.id for one in budget.lines if one.sort == "donations")
    till = next(one.id for one in budget.places if one.sort == "cash")
    with closing(open_book(path, clock=SteppedClock(START_MS))) as book:
        book.ask_now(AT_THE_KEYBOARD, money.set_budget(budget), key="budget")
        gift = Received(day=EVENT.day, line=line, place=till, amount=5_000, giver="giver-1")
        book.ask_now(AT_THE_KEYBOARD, money.book_money(gift), key="gift")
        book.personal.erase_everyone(AT_THE_KEYBOARD, "all")
        assert set(book.people()) == {"giver-1"}
        (left,) = held(book.state, book.people())
        assert left.for_money
    assert athlete


def test_the_day_is_counted_from_the_last_day_and_may_be_none() -> None:
    day = erase_on(EVENT)
    assert day == EVENT.day + timedelta(days=90)
    never = replace(REAL, rules=replace(EVENT.rules, keep_people_days=None))
    assert erase_on(never) is None
    loaded = State(seq=1, at_ms=START_MS, event=never)
    assert not is_due(loaded, START_MS + 300 * DAY_MS)
    assert is_due(replace(loaded, event=REAL), START_MS + 300 * DAY_MS)
    assert not is_due(replace(loaded, event=EVENT), START_MS + 300 * DAY_MS)
