"""Verbs that set an event up: load files, check what is there."""

from pathlib import Path

import click
import msgspec

from callroom.actions.checks import check_book
from callroom.bootstrap.books import book_for_commands, open_book
from callroom.bootstrap.loading import Files, load_files
from callroom.bootstrap.places import place_of
from callroom.cli.saying import (
    NO,
    answering,
    book_argument,
    json_option,
    progress,
    say_findings,
    say_json,
)
from callroom.cli.words import _
from callroom.model import errors_among

_FILE = click.Path(dir_okay=False, path_type=Path)


@click.command()
@book_argument
@click.argument("event", type=_FILE, required=False)
@click.option("--teams", type=_FILE, help="Teams and athletes, CSV or XLSX.")
@click.option("--crew", type=_FILE, help="Volunteers, CSV or XLSX.")
@click.option("--kit", type=_FILE, help="Equipment, CSV or XLSX.")
@json_option
@answering
def load(
    book: str,
    event: Path | None,
    teams: Path | None,
    crew: Path | None,
    kit: Path | None,
    as_json: bool,
) -> None:
    """Load an event file and lists into a book: all of it, or with a fault nothing."""
    opened = book_for_commands(place_of(book))
    try:
        loaded = load_files(opened, Files(event=event, teams=teams, crew=crew, kit=kit))
    finally:
        opened.close()
    if as_json:
        say_json(msgspec.to_builtins(loaded))
        return
    say_findings(loaded.findings, as_json=False)
    progress(
        _("{entries} entries: {teams} teams, {crew} volunteers, {kit} lines of kit.").format(
            entries=loaded.entries, teams=loaded.teams, crew=loaded.crew, kit=loaded.kit
        )
    )


@click.command()
@book_argument
@json_option
@answering
def check(book: str, as_json: bool) -> int | None:
    """Say everything that is wrong, or worth knowing, in a book as it stands."""
    opened = open_book(place_of(book), writing=False)
    try:
        event = opened.state.event
        findings = check_book(opened.state)
    finally:
        opened.close()
    say_findings(findings, as_json=as_json, event=event)
    if not findings and not as_json:
        progress(_("Nothing to say: event, teams, crew and plan are sound."))
    return NO if errors_among(findings) else None
