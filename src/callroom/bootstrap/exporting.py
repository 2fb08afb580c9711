"""A book as files for others: results, timetable, and the whole book to keep."""

from collections.abc import Collection, Iterator, Mapping
from pathlib import Path

import msgspec

from callroom.bootstrap.books import new_from_dump, open_book
from callroom.bootstrap.money_files import money_files
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.places import Place
from callroom.bootstrap.speech import speech_for
from callroom.exchange import (
    Beside,
    ResultPart,
    ResultRow,
    Results,
    Timetable,
    event_calendar,
    read_dump,
    results_csv,
    results_json,
    results_xlsx,
    team_calendar,
    write_dump,
    write_event,
)
from callroom.model import (
    CallroomError,
    Event,
    NotFound,
    Plan,
    State,
    from_milliseconds,
    milliseconds,
)
from callroom.views.results import results
from callroom.views.side_programme import side_times
from callroom.views.standings import standings
from callroom.views.timetable import Audience


def export_files(place: Place, out: Path, *, share: bool = False) -> tuple[Path, ...]:
    """Write the files of a book into a folder and return them.

    Results as CSV, XLSX and JSON; the timetable and every team's day as iCalendar; the whole
    book as a JSON dump, which holds everything personal unless it is made to `share`. What is
    not made to share has the event as a file too, to be loaded into next year's book; it tells
    of workouts that are not released.

    Raises
    ------
    JournalError
        If the book cannot be read.
    NotFound
        If it has no event yet.
    """
    book = open_book(place, writing=False)
    try:
        files = dict(_files(book, share=share))
    finally:
        book.close()
    for name, content in files.items():
        target = out / name
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content)
    return tuple(out / name for name in files)


def book_from_dump(place: Place, dump: Path) -> None:
    """Make a book from a dump; it folds to the same State.

    Raises
    ------
    BadInput
        If the dump is not whole, with the place of every fault. No book is made then.
    JournalError
        If there is a file at `path` already, or the place is not fit for a book.
    """
    try:
        data = dump.read_bytes()
    except FileNotFoundError as fault:
        raise NotFound("file.missing", file=str(dump)) from fault
    except OSError as fault:
        raise CallroomError("file.unreadable", file=str(dump), reason=str(fault)) from fault
    new_from_dump(place, read_dump(data, dump.name))


def _files(book: OpenBook, *, share: bool) -> Iterator[tuple[str, bytes]]:
    state = book.state
    if state.event is None:
        raise NotFound("book.no_event")
    listed = _results(book, state.event)
    yield "results.csv", results_csv(listed)
    yield "results.xlsx", results_xlsx(listed)
    yield "results.json", results_json(listed)
    yield from _calendars(state, state.event, book.now_ms())
    if not share:
        yield "event.toml", write_event(state.event).encode()
        if state.bookings:
            for name, content in money_files(state, speech_for(state).words).items():
                yield f"money/{name}", content
    yield "book.json", b"".join(write_dump(book.store.dump(share=share)))


def _results(book: OpenBook, event: Event) -> Results:
    state = book.state
    seal = book.store.seal_at(state.seq)
    return Results(
        event=event.id,
        event_name=event.name,
        day=event.day,
        as_of=from_milliseconds(state.at_ms),
        rows=tuple(
            msgspec.convert(
                msgspec.to_builtins(row) | {"parts": [_part(part) for part in row.parts]},
                ResultRow,
            )
            for row in results(state, Audience(public=True, now_s=_now_s(event, book.now_ms())))
        ),
        final=all(standings(state, division.id).final for division in event.divisions),
        seal=seal.printed() if seal is not None else "",
        rehearsal=state.rehearsal,
        invented=event.invented,
    )


def _part(part: msgspec.Struct) -> ResultPart:
    return msgspec.convert(msgspec.to_builtins(part), ResultPart)


def calendar_feed(state: State, now_ms: int, team_id: str = "") -> bytes:
    """Return the day as a calendar, everybody's or one team's, as the public may see it now.

    Raises
    ------
    NotFound
        Without an event, a published plan, or such a team.
    """
    if state.event is None:
        raise NotFound("book.no_event")
    if state.plan is None:
        raise NotFound("plan.none")
    timetable = _timetable(state, state.event, state.plan, now_ms)
    if not team_id:
        return event_calendar(timetable)
    if team_id not in state.teams:
        raise NotFound("team.unknown", team=team_id)
    return team_calendar(timetable, team_id)


def _timetable(state: State, event: Event, plan: Plan, now_ms: int) -> Timetable:
    return Timetable(
        event=event,
        plan=plan,
        teams=state.teams,
        stamped_at=from_milliseconds(state.at_ms),
        hidden=_hidden(event, now_ms),
        beside=tuple(
            Beside(
                id=f"{one.id}/{one.start_s}",
                name=one.name,
                place=one.place,
                start_s=one.start_s,
                end_s=one.end_s,
            )
            for one in side_times(state)
        ),
        rehearsal=state.rehearsal,
    )


def _calendars(state: State, event: Event, now_ms: int) -> Iterator[tuple[str, bytes]]:
    if state.plan is None:
        return
    timetable = _timetable(state, event, state.plan, now_ms)
    yield "calendars/event.ics", event_calendar(timetable)
    for team_id in _still_in(state.teams, state.team_status):
        yield f"calendars/team-{team_id}.ics", team_calendar(timetable, team_id)


def _hidden(event: Event, now_ms: int) -> Collection[str]:
    """Return the workouts whose release time has not come."""
    now_s = _now_s(event, now_ms)
    return frozenset(
        workout.id
        for workout in event.workouts
        if workout.release_s is not None and workout.release_s > now_s
    )


def _now_s(event: Event, now_ms: int) -> int:
    return (now_ms - milliseconds(event.starts_at)) // 1000


def _still_in(teams: Mapping[str, object], gone: Mapping[str, object]) -> list[str]:
    return [team_id for team_id in teams if team_id not in gone]
