"""The verb of the kit: what is short, and whether the changeovers fit into their time."""

from pathlib import Path

import click
import msgspec

from callroom.bootstrap.books import open_book
from callroom.bootstrap.kit_making import LEAST_PEOPLE, MOST_PEOPLE, PEOPLE, bars_of, kit_day
from callroom.bootstrap.places import place_of
from callroom.bootstrap.speech import speech_for
from callroom.cli.planning_progress import said
from callroom.cli.saying import NO, answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _
from callroom.model import Refusal, from_milliseconds
from callroom.paper import lane_loads_pdf
from callroom.views.kit_day import kit_sheets


@click.command()
@book_argument
@click.option(
    "--people",
    default=PEOPLE,
    show_default=True,
    type=click.IntRange(LEAST_PEOPLE, MOST_PEOPLE),
    help="How many change plates.",
)
@click.option(
    "--out",
    type=click.Path(dir_okay=False, path_type=Path),
    help="A PDF with a changeover sheet for each lane.",
)
@json_option
@answering
def kit(book: str, people: int, out: Path | None, as_json: bool) -> int | None:
    """Count the kit against the plan: what is short, what the bars take, what does not fit."""
    opened = open_book(place_of(book), writing=False)
    try:
        state = opened.state
    finally:
        opened.close()
    if state.event is None:
        raise Refusal("book.no_event")
    day = kit_day(state, people=people)
    if out is not None:
        view = kit_sheets(state, bars_of(day))
        at, speech = from_milliseconds(state.at_ms), speech_for(state)
        out.write_bytes(
            lane_loads_pdf(
                view,
                size="us-letter" if state.event.mass_unit == "lb" else "a4",
                at=at,
                speech=speech,
            )
        )
    if as_json:
        say_json(msgspec.to_builtins(day))
        return NO if day.short or day.hurried else None
    for floor in day.floors:
        progress(
            _("{floor}: {moves} moves all day, {changeovers} changeovers.").format(
                floor=state.event.floor(floor.floor).name,
                moves=floor.moves,
                changeovers=len(floor.changeovers),
            )
        )
    for one in (*day.short, *day.hurried):
        progress(f"{one.severity}: {said(one, state.event)}")
    if not day.short and not day.hurried:
        progress(_("Everything is there, and every changeover fits into its time."))
    return NO if day.short or day.hurried else None
