"""Verbs for a hosted book: its first passphrase; to the hall, and back."""

import asyncio
from pathlib import Path

import click
import msgspec

from callroom.bootstrap.books import open_book
from callroom.bootstrap.hall import WentOn, bring_back_to, take
from callroom.bootstrap.places import file_of, place_of
from callroom.cli.saying import answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _

_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command()
@book_argument
@click.option(
    "--set", "given", prompt=_("New passphrase"), hide_input=True, confirmation_prompt=True
)
@answering
def passphrase(book: str, given: str) -> None:
    """Set the director's passphrase of BOOK, which nobody serves just now."""
    opened = open_book(place_of(book))
    try:
        asyncio.run(opened.doors.set_passphrase(given))
    finally:
        opened.close()
    progress(_("The passphrase is set."))


@click.command("take")
@click.argument("book", type=_FILE)
@click.option(
    "--to", type=click.Path(dir_okay=False, path_type=Path), help="Make the book there instead."
)
@json_option
@answering
def take_(book: Path, to: Path | None, as_json: bool) -> None:
    """Go on in the hall with BOOK, the file that the hosted copy gave out."""
    _say(take(book, to), _("{event} goes on here, in {path}. Serve it."), as_json=as_json)


@click.command("bring-back")
@book_argument
@click.argument("given", type=_FILE)
@json_option
@answering
def bring_back(book: str, given: Path, as_json: bool) -> None:
    """Go on with the hosted BOOK, which nobody serves just now, from the file the hall GIVEs back."""
    found = bring_back_to(file_of(place_of(book)), given)
    _say(found, _("{event} is back, in {path}, with {seq} entries."), as_json=as_json)


def _say(found: WentOn, said: str, *, as_json: bool) -> None:
    if as_json:
        say_json(msgspec.structs.asdict(found) | {"path": str(found.path)})
    else:
        progress(said.format(event=found.event, path=found.path, seq=found.seq))
