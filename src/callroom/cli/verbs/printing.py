"""The verb that prints: every sheet of the day as PDF."""

from collections.abc import Collection, Mapping
from pathlib import Path
from typing import Literal

import click
from msgspec.structs import replace

from callroom.bootstrap.books import open_book
from callroom.bootstrap.places import place_of
from callroom.bootstrap.speech import speech_for
from callroom.cli.saying import (
    answering,
    book_argument,
    json_option,
    progress,
    say_findings,
    say_json,
)
from callroom.model import State, milliseconds
from callroom.model.person import Person
from callroom.paper import PACK, PaperSize, print_pack
from callroom.views.sheets import NOBODY, print_findings, sheets

SIZES: dict[str, PaperSize] = {"a4": "a4", "letter": "us-letter"}
TO_A_SHEET: dict[str, Literal[1, 2]] = {"1": 1, "2": 2}


@click.command("print")
@book_argument
@click.option(
    "--out", required=True, type=click.Path(file_okay=False, path_type=Path), help="The folder."
)
@click.option(
    "--size", type=click.Choice(list(SIZES)), help="Letter where the event is in pounds, else A4."
)
@click.option("--address", default="", help="Where codes lead, if not as the event says.")
@click.option(
    "--cards-to-a-sheet", type=click.Choice(list(TO_A_SHEET)), default="1", show_default=True
)
@click.option(
    "--only",
    multiple=True,
    type=click.Choice(PACK),
    help="One kind of sheet, to print it again; may be given several times.",
)
@json_option
@answering
def print_(
    book: str,
    out: Path,
    size: str | None,
    address: str,
    cards_to_a_sheet: str,
    only: tuple[str, ...],
    as_json: bool,
) -> None:
    """Print cards, heat sheets, timetables, every team's day, the guide and the briefing."""
    opened = open_book(place_of(book), writing=False)
    try:
        state = _led_to(opened.state, address)
        now_s = _now_s(state, opened.now_ms())
        people = opened.people()
    finally:
        opened.close()
    files = write_pack(
        state,
        out,
        SIZES[size or _usual_size(state)],
        TO_A_SHEET[cards_to_a_sheet],
        now_s,
        only or PACK,
        people,
    )
    if as_json:
        say_json({"files": [str(path) for path in files]})
        return
    say_findings(print_findings(state), as_json=False)
    for path in files:
        progress(str(path))


def write_pack(
    state: State,
    out: Path,
    size: PaperSize,
    cards_to_a_sheet: Literal[1, 2],
    now_s: int | None = None,
    only: Collection[str] = PACK,
    people: Mapping[str, Person] = NOBODY,
) -> tuple[Path, ...]:
    """Write the sheets of `state` into `out`, `only` some kinds if told; returns the files.

    Sheets that go home with people show what is released by `now_s` [s from the day's start].
    """
    return print_pack(
        sheets(state, now_s, people),
        out,
        size=size,
        speech=speech_for(state),
        cards_to_a_sheet=cards_to_a_sheet,
        only=only,
    )


def _led_to(state: State, address: str) -> State:
    """Return the State with another address of the server, for the codes on sheets."""
    if not address or state.event is None:
        return state
    return replace(state, event=replace(state.event, address=address))


def _usual_size(state: State) -> str:
    return "letter" if state.event is not None and state.event.mass_unit == "lb" else "a4"


def _now_s(state: State, now_ms: int) -> int | None:
    if state.event is None:
        return None
    return (now_ms - milliseconds(state.event.starts_at)) // 1000
