"""The verb that says how likely the plan is to be kept."""

import click
import msgspec

from callroom.actions.day_now import typed_s
from callroom.bootstrap.books import open_book
from callroom.bootstrap.places import place_of
from callroom.bootstrap.punctual import WANTED, punctual_day
from callroom.cli.planning_progress import said
from callroom.cli.saying import NO, answering, book_argument, json_option, progress, say_json
from callroom.model import Refusal


@click.command()
@book_argument
@click.option(
    "--by", default="", metavar="HH:MM", help="When all is over; the awards, if left out."
)
@click.option(
    "--days-in-100",
    default=WANTED,
    show_default=True,
    type=click.IntRange(50, 99),
    help="On how many days that shall be kept.",
)
@json_option
@answering
def punctuality(book: str, by: str, days_in_100: int, as_json: bool) -> int | None:
    """Say how often each heat and the end of the day would be late, and where slack does good."""
    opened = open_book(place_of(book), writing=False)
    try:
        state = opened.state
    finally:
        opened.close()
    if state.event is None:
        raise Refusal("book.no_event")
    end_s = typed_s(state, by) if by else None
    day = punctual_day(state, end_s=end_s, wanted_percent=days_in_100)
    kept = day.report.end_kept_permille >= days_in_100 * 10
    if as_json:
        say_json(msgspec.to_builtins(day))
    else:
        for one in day.said:
            progress(said(one, state.event))
    return None if kept else NO
