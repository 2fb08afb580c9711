"""The verb that repairs a running day: how it can go on, and who must be told what."""

import click
import msgspec

from callroom.bootstrap import repairing
from callroom.bootstrap.books import AT_THE_KEYBOARD, book_for_commands
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.places import place_of
from callroom.cli.planning_progress import said
from callroom.cli.saying import NO, answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _
from callroom.model import Event, Refusal, State
from callroom.views.day_wording import day_clock


@click.command()
@book_argument
@click.option(
    "--accept",
    default=0,
    type=click.IntRange(min=0),
    metavar="NUMBER",
    help="Make a proposal the plan in force.",
)
@click.option("--why", default="", help="What for, in a few words everyone may read.")
@json_option
@answering
def repair(book: str, accept: int, why: str, as_json: bool) -> int | None:
    """Propose how the day can go on from now: late, with a lane lost, or without some teams."""
    opened = book_for_commands(place_of(book))
    try:
        state = opened.state
        now_ms = opened.now_ms() if isinstance(opened, OpenBook) else opened.view.now_ms()
        found = repairing.proposals(state, now_ms)
        if accept > len(found):
            raise Refusal("repair.gone")
        if accept:
            asked = repairing.accepted(state, found[accept - 1], why)
            opened.ask_now(AT_THE_KEYBOARD, asked, key=f"repair-{state.seq}")
    finally:
        opened.close()
    if as_json:
        say_json([msgspec.to_builtins(one) | {"name": one.name} for one in found])
    elif state.event is not None:
        for number, one in enumerate(found, 1):
            _say(state, state.event, number, one)
    faulty = any(one.changes and not one.acceptable for one in found)
    return NO if faulty else None


def _say(state: State, event: Event, number: int, one: repairing.Proposal) -> None:
    if not one.changes:
        progress(_("Nothing has to move."))
    else:
        ends = day_clock(event, one.repaired.plan.finish_s)
        titles = {
            "kept_order": _("{number}: in the order published; the day is over at {ends}."),
            "reordered": _("{number}: some heats change places; the day is over at {ends}."),
        }
        progress(titles[one.repaired.how].format(number=number, ends=ends))
    for notice in one.repaired.notices:
        teams = ", ".join(state.teams[team].name for team in notice.teams if team in state.teams)
        progress(f"   {said(notice.said, event)} {teams}".rstrip())
    if one.changes and one.repaired.findings and one.acceptable:
        progress(_("   This breaks what the plan in force keeps:"))
    for found in one.repaired.findings:
        progress(f"   {found.severity}: {said(found, event)}")
    if one.moves:
        progress(_("   {count} shifts of the rota change hands.").format(count=len(one.moves)))
