"""The verb that keeps the public pages when the day is over."""

from pathlib import Path

import click

from callroom.bootstrap.books import open_book
from callroom.bootstrap.places import place_of
from callroom.cli.saying import answering, book_argument, json_option, progress, say_json
from callroom.web.archive import write_archive


@click.command("archive")
@book_argument
@click.option(
    "--out",
    required=True,
    type=click.Path(file_okay=False, path_type=Path),
    help="The folder; empty, or an earlier archive.",
)
@json_option
@answering
def archive(book: str, out: Path, as_json: bool) -> None:
    """Write the public pages into a folder that opens in any browser, without a server."""
    opened = open_book(place_of(book), writing=False)
    try:
        written = write_archive(opened, out)
    finally:
        opened.close()
    if as_json:
        say_json({"start": str(out / "index.html"), "written": written})
        return
    progress(str(out / "index.html"))
