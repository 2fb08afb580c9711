"""Verbs about results: the standings, and everything as files for others."""

from pathlib import Path

import click
import msgspec

from callroom.bootstrap.books import open_book
from callroom.bootstrap.exporting import export_files
from callroom.bootstrap.places import place_of
from callroom.cli.saying import answering, book_argument, json_option, progress, say_json
from callroom.views.results import TeamResult, results


@click.command()
@book_argument
@json_option
@answering
def standings(book: str, as_json: bool) -> None:
    """Show the standings of every division as they are now."""
    opened = open_book(place_of(book), writing=False)
    try:
        listed = results(opened.state)
    finally:
        opened.close()
    if as_json:
        say_json(msgspec.to_builtins(listed))
        return
    division = ""
    for row in listed:
        if row.division_name != division:
            division = row.division_name
            click.echo(f"\n{division}")
        click.echo(_line(row))


def _line(row: TeamResult) -> str:
    place = str(row.place) if row.place is not None else "–"
    cells = "  ".join(f"{part.result:>14}" for part in row.parts)
    return f"{place:>3}  {row.team_name[:28]:<28} {row.points:>6}  {cells}"


@click.command()
@book_argument
@click.option(
    "--out", required=True, type=click.Path(file_okay=False, path_type=Path), help="The folder."
)
@click.option("--share", is_flag=True, help="Leave everything personal out of the dump.")
@json_option
@answering
def export(book: str, out: Path, share: bool, as_json: bool) -> None:
    """Write results, timetable and the whole book as files: CSV, XLSX, JSON, iCalendar."""
    files = export_files(place_of(book), out, share=share)
    if as_json:
        say_json({"files": [str(path) for path in files]})
        return
    for path in files:
        progress(str(path))
