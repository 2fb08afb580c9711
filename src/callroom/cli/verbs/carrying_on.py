"""The verb by which another laptop carries on with a book."""

from pathlib import Path

import click
import msgspec

from callroom.bootstrap.carry_on import CarriedOn, carry_on
from callroom.bootstrap.gathering import gather as bring_over
from callroom.bootstrap.places import file_of, place_of
from callroom.cli.saying import answering, book_argument, json_option, progress, say_json
from callroom.cli.verbs.serving import Serving, serve_book
from callroom.cli.words import _
from callroom.model import from_milliseconds, wall_time
from callroom.web.hosts import open_to_phones
from callroom.web.serving import own_addresses
from callroom.web.settings import WebSettings


@click.command("carry-on")
@click.argument("copy", type=click.Path(exists=True, path_type=Path))
@click.option(
    "--to", type=click.Path(dir_okay=False, path_type=Path), help="The book to make of the copy."
)
@click.option("--serve/--no-serve", "serving", default=True, help="Serve it at once.")
@click.option("--hall/--here-only", default=True, help="Let phones on this network in.")
@click.option("--port", default=8000, show_default=True)
@click.option("--address", default="", help="Where phones find this laptop.")
@click.option(
    "--keep",
    type=click.Path(file_okay=False, path_type=Path),
    help="Keep a copy in this folder from now on; the folder of COPY will do.",
)
@click.option(
    "--although-served", is_flag=True, help="Something else answers where the book was served."
)
@click.option("--again", is_flag=True, help="Another laptop took the copy but never began.")
@click.option("--browser/--no-browser", default=True, help="Open a browser on it.")
@json_option
@answering
def carry_on_(
    copy: Path,
    to: Path | None,
    serving: bool,
    hall: bool,
    port: int,
    address: str,
    keep: Path | None,
    although_served: bool,
    again: bool,
    browser: bool,
    as_json: bool,
) -> None:
    """Go on with a book on this laptop, from the COPY that was kept (or the folder it is in)."""
    found = open_to_phones(WebSettings(hosts=own_addresses(), port=port))
    here = address or next(iter(found), "")
    carried = carry_on(copy, to, address=here, although_served=although_served, again=again)
    if as_json:
        say_json(msgspec.structs.asdict(carried) | {"path": str(carried.path)})
    else:
        _say(carried)
    if serving:
        wanted = Serving(
            hall=hall, port=port, address=here, copy_to=None, keep=keep, browser=browser
        )
        serve_book(carried.path, wanted, as_json=False)


def _say(carried: CarriedOn) -> None:
    at = wall_time(from_milliseconds(carried.last_ms), carried.zone).strftime("%H:%M:%S")
    progress(
        _("{event} goes on here, in {path}. Its last entry is number {seq}, of {at}.").format(
            event=carried.event, path=carried.path, seq=carried.seq, at=at
        )
    )
    progress(
        _(
            "The copy is whole and sound; its seal is {seal}. Pads send again what they have."
        ).format(seal=carried.seal)
    )
    if not carried.marked:
        progress(
            _(
                "The folder of the copy could not be marked: make sure that the other laptop is not"
                " started again."
            )
        )


@click.command()
@book_argument
@click.argument("other", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@json_option
@answering
def gather(book: str, other: Path, as_json: bool) -> None:
    """Bring into BOOK what only the OTHER laptop's book has, after BOOK was carried on."""
    found = bring_over(file_of(place_of(book)), other)
    if as_json:
        say_json({"reports": found.reports, "decisions": dict(found.decisions)})
        return
    progress(
        _(
            "Reports brought over: {count}. What has no place any more waits for the head judge."
        ).format(count=found.reports)
    )
    for kind, count in found.decisions:
        progress(_("Decided there and not here: {kind}, {count}").format(kind=kind, count=count))
