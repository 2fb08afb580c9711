"""Verbs that keep books: make one, back it up, verify it."""

from pathlib import Path

import click
import msgspec

from callroom.bootstrap.books import back_up, new_book, verify_book
from callroom.bootstrap.exporting import book_from_dump
from callroom.bootstrap.next_year import CarriedOver, next_years_book
from callroom.bootstrap.places import file_of, place_of
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


@click.command()
@book_argument
@click.option(
    "--from",
    "dump",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Fill it from a dump of another book (book.json of `callroom export`).",
)
@click.option(
    "--after",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Begin with what last time's book taught: workouts, kit, paces, budget, willing crew.",
)
@json_option
@answering
def new(book: str, dump: Path | None, after: Path | None, as_json: bool) -> None:
    """Make an empty book: the file in which one event is kept."""
    path = place_of(book)
    if after is not None:
        file = file_of(path)
        _say_carried(next_years_book(after, file), file, as_json=as_json)
        return
    if dump is None:
        new_book(path)
    else:
        book_from_dump(path, dump)
    if as_json:
        say_json({"book": str(path)})
    else:
        said = (
            _("Made {path}. Next: callroom load {path} EVENT.toml")
            if dump is None
            else _("Made {path} from the dump. Next: callroom verify {path}")
        )
        progress(said.format(path=path))


def _say_carried(carried: CarriedOver, path: Path, *, as_json: bool) -> None:
    if as_json:
        say_json({"book": str(path), **msgspec.to_builtins(carried)})
        return
    progress(
        _(
            "Made {path}: {event}, for now on {day}. Taken over: {kit} kit lines, {crew} volunteers "
            "who agreed ({left_out} did not, or were not asked), {paces} paces, {lines} lines of the budget."
        ).format(
            path=path,
            event=carried.event,
            day=carried.day.isoformat(),
            kit=carried.kit,
            crew=carried.crew,
            left_out=carried.left_out,
            paces=carried.paces,
            lines=carried.lines,
        )
    )
    for lender, item, count in carried.give_back:
        progress(
            _("Goes back to {lender}: {count} × {item}").format(
                lender=lender, count=count, item=item
            )
        )


@click.command()
@book_argument
@click.argument("dest", type=click.Path(dir_okay=False))
@click.option("--share", is_flag=True, help="Leave out everything personal and every secret.")
@click.option("--force", is_flag=True, help="Replace DEST if it is there.")
@json_option
@answering
def backup(book: str, dest: str, share: bool, force: bool, as_json: bool) -> None:
    """Copy a book, also while a server has it. Never copy a running book by hand."""
    made = back_up(place_of(book), Path(dest), share=share, force=force)
    if as_json:
        say_json({"backup": dest, "seq": made.seq, "share": made.share})
    else:
        progress(
            _("Copied {book} up to entry {seq} into {dest}.").format(
                book=place_of(book), seq=made.seq, dest=dest
            )
        )


@click.command()
@book_argument
@click.option("--seq", type=int, help="The entry number printed on a result sheet.")
@click.option("--seal", help="The seal printed beside it.")
@json_option
@answering
def verify(book: str, seq: int | None, seal: str | None, as_json: bool) -> int | None:
    """Read every entry of a book and say whether all is as it should be."""
    printed = (seq, seal) if seq is not None and seal is not None else None
    findings = verify_book(place_of(book), printed)
    if as_json:
        say_findings(findings, as_json=True)
    else:
        say_findings(findings, as_json=False)
        if not errors_among(tuple(findings)):
            progress(
                _("{book}: every entry can be read, adds up and is sealed.").format(
                    book=place_of(book)
                )
            )
    return NO if errors_among(tuple(findings)) else None
