"""The verb that practises: the whole planned day on a copy of the book."""

from collections.abc import Callable

import click

from callroom.actions.cue import Cue
from callroom.bootstrap.books import open_book
from callroom.bootstrap.places import place_of
from callroom.bootstrap.rehearsals import clock_for, rehearsal_of
from callroom.cli.rehearsal import Played, Stage, play
from callroom.cli.saying import NO, answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _
from callroom.model import from_milliseconds, wall_time

seed_option = click.option(
    "--seed", default=1, show_default=True, help="The same seed plays the same day."
)


@click.command()
@book_argument
@click.option("--speed", default=0, show_default=True, help="Times real time; 0: at once.")
@click.option("--stay", is_flag=True, help="Go on serving when the day is over.")
@seed_option
@json_option
@answering
def rehearse(book: str, speed: int, stay: bool, seed: int, as_json: bool) -> int | None:
    """Play the whole planned day on a copy, through the interface that phones use.

    The book itself is not touched. The copy is BOOK.rehearsal; its pages and sheets say so.
    """
    path = rehearsal_of(place_of(book), seed)
    opened = open_book(path, clock=clock_for(path, speed))
    try:
        with Stage(opened) as stage:
            progress(_("Rehearsing {path} at {url}.").format(path=path, url=stage.url))
            zone = opened.state.event.zone if opened.state.event is not None else "UTC"
            played = play(opened, stage.url, seed, teller(zone))
            say_played(played)
            if stay:
                progress(_("The day is over; still serving. Stop with Ctrl-C."))
                stage.wait()
    finally:
        opened.close()
    if as_json:
        say_json({"book": str(path), "scores": played.scores, "refused": len(played.refused)})
    return NO if played.refused else None


def teller(zone: str) -> Callable[[Cue, int, int], None]:
    """Return what tells of the course of a rehearsal, a line for every twentieth of it."""
    told = 0

    def tell(cue: Cue, number: int, cues: int) -> None:
        nonlocal told
        if number * 20 // cues > told:
            told = number * 20 // cues
            clock = wall_time(from_milliseconds(cue.at_ms), zone)
            progress(
                _("{clock}  {number} of {all}").format(
                    clock=f"{clock:%H:%M}", number=number, all=cues
                )
            )

    return tell


def say_played(played: Played) -> None:
    """Say what was played, and what the server refused."""
    progress(
        _("{cues} cues played, {scores} scores among them.").format(
            cues=played.cues, scores=played.scores
        )
    )
    for refused in played.refused:
        progress(
            _("refused ({status}): {kind}: {sentence}").format(
                status=refused.status, kind=refused.kind, sentence=refused.sentence
            )
        )
