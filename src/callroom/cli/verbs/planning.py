"""Verbs about the day's plan: make it, say what each wish costs, offer a few to choose from."""

from collections.abc import Callable
from typing import Any

import click
import msgspec

from callroom.actions.day import publish_plan
from callroom.actions.planning import MenuLine, Option, PlanReply, Price, limits, plan_request
from callroom.bootstrap.books import AT_THE_KEYBOARD, book_for_commands, open_book
from callroom.bootstrap.places import place_of
from callroom.bootstrap.planning import Searched, choices_apart, prices_apart, search_apart
from callroom.cli.planning_progress import said, told_to, until_stopped
from callroom.cli.saying import (
    NO,
    answering,
    book_argument,
    json_option,
    progress,
    say_json,
)
from callroom.cli.words import _
from callroom.model import Event, Finding, Plan, State
from callroom.views.day_wording import day_clock
from callroom.views.plan_desk import gap_said, plan_pair
from callroom.views.wording import stopwatch


@click.command()
@book_argument
@click.option("--seconds", default=30, show_default=True, help="How long to look for a better day.")
@click.option("--dry-run", is_flag=True, help="Show the plan, publish nothing.")
@json_option
@answering
def plan(book: str, seconds: int, dry_run: bool, as_json: bool) -> int | None:
    """Plan the day: heats, floors, times and lanes; publish it as the next revision.

    Ctrl-C stops the search and keeps the best plan found by then. If the day cannot be done,
    say why, and which single changes would do.
    """
    opened = book_for_commands(place_of(book))
    try:
        state = opened.state
        request = plan_request(state, limits(seconds))
        event = request.event

        searched = until_stopped(
            lambda stop: search_apart(
                request, told_to(event), _tell_why_not(event), _tell_line(event), stop
            )
        )
        found = searched.reply.plan
        if found is None:
            _say_impossible(searched, event, as_json=as_json)
            return NO
        if not dry_run:
            key = f"plan-{request.inputs_digest}-{request.revision}"
            opened.ask_now(AT_THE_KEYBOARD, publish_plan(found), key=key)
    finally:
        opened.close()
    for one in searched.reply.findings:
        progress(f"{one.severity}: {said(one, event)}")
    if as_json:
        say_json(_summary(searched, found, published=not dry_run))
    else:
        _say_plan(state, event, searched, found)
    return None


def _tell_why_not(event: Event) -> Callable[[PlanReply], None]:
    def tell(reply: PlanReply) -> None:
        if reply.plan is None:
            progress(_("The day cannot be done as wished."))
            for one in reply.findings:
                progress(said(one, event))
            progress(_("One change at a time, each tried:"))

    return tell


def _tell_line(event: Event) -> Callable[[MenuLine], None]:
    def tell(line: MenuLine) -> None:
        changes = " ".join(said(one, event) for one in line.changes)
        mark = "✓" if line.status == "does" else " "
        progress(f" {mark} {changes} {said(line.outcome, event)}")

    return tell


def _say_impossible(searched: Searched, event: Event, *, as_json: bool) -> None:
    if not as_json:
        return  # it was told while it was found
    say_json(
        {
            "findings": [_with_sentence(one, event) for one in searched.reply.findings],
            "menu": [
                msgspec.to_builtins(line)
                | {"sentences": [said(one, event) for one in (*line.changes, line.outcome)]}
                for line in searched.menu
            ],
        }
    )


def _with_sentence(finding: Finding, event: Event) -> dict[str, Any]:
    told: dict[str, Any] = msgspec.to_builtins(finding)
    return told | {"sentence": said(finding, event)}


def _summary(searched: Searched, found: Plan, *, published: bool) -> dict[str, Any]:
    return {
        "revision": found.revision,
        "finish_s": found.finish_s,
        "bound_s": found.bound_s,
        "certificate_s": searched.reply.certificate_s,
        "heats": len(found.heats),
        "published": published,
        "stopped": searched.stopped,
    }


def _say_plan(state: State, event: Event, searched: Searched, found: Plan) -> None:
    progress(
        _("Revision {revision}: {heats} heats.").format(
            revision=found.revision, heats=len(found.heats)
        )
    )
    progress(said(gap_said(found, searched.reply.certificate_s), event))
    for reason in searched.because[:1]:
        progress(said(reason, event))
    if state.plan is not None:
        progress(
            _("Against revision {revision}, in force until now:").format(
                revision=state.plan.revision
            )
        )
        pair = plan_pair(event, state.teams.values(), state.plan, found)
        for one in pair.said:
            progress(f"   {said(one, event)}")


@click.command()
@book_argument
@click.option("--seconds", default=1, show_default=True, help="How long each single try may take.")
@json_option
@answering
def prices(book: str, seconds: int, as_json: bool) -> None:
    """Say what each wish of the day costs, in minutes of its end."""
    state = _state_of(book)
    asked = plan_request(state)
    event = asked.event

    def tell(price: Price) -> None:
        if not as_json:
            minutes = "   –" if price.by_s is None else f"{round(price.by_s / 60):+4}"
            minutes = minutes if price.proven or price.by_s is None else f"≈{minutes.strip():>3}"
            click.echo(f"{minutes}  {said(price.change, event)} {said(price.outcome, event)}")

    found = until_stopped(
        lambda stop: prices_apart(event, asked.teams, tell, stop, work=max(seconds, 1))
    )
    if as_json and found is not None:
        say_json(msgspec.to_builtins(found))


@click.command()
@book_argument
@click.option("--seconds", default=4, show_default=True, help="How long to look for each plan.")
@json_option
@answering
def choices(book: str, seconds: int, as_json: bool) -> int | None:
    """Offer three or four plans: early end, short waits, or lanes to spare."""
    state = _state_of(book)
    asked = plan_request(state)
    event = asked.event
    if not as_json:
        progress(_("{title:<44} over at  longest wait  lanes to spare").format(title=""))

    def tell(option: Option) -> None:
        if not as_json:
            ends, wait = day_clock(event, option.finish_s), stopwatch(option.longest_wait_s)
            click.echo(f"{_title(option):<44} {ends:>7}  {wait:>12}  {option.spare_lanes:>14}")

    found = until_stopped(
        lambda stop: choices_apart(event, asked.teams, tell, stop, work=max(seconds, 1))
    )
    if as_json:
        say_json([_option(option) for option in found])
    return None if found else NO


def _option(option: Option) -> dict[str, Any]:
    return {
        "name": option.name,
        "finish_s": option.finish_s,
        "longest_wait_s": option.longest_wait_s,
        "spare_lanes": option.spare_lanes,
        "heats": len(option.plan.heats),
    }


def _title(option: Option) -> str:
    titles = {
        "as_wished": _("as wished"),
        "mixed": _("divisions share heats"),
        "pure": _("every heat of one division"),
        "finals_by_wave": _("finals at the end of their wave"),
        "no_waves": _("without waves"),
        "lane_held": _("one more lane of every floor held free"),
        "calm": _("up to 15 minutes longer, shorter waits"),
        "calmer": _("up to 30 minutes longer, shorter waits"),
    }
    return titles[option.name]


def _state_of(book: str) -> State:
    opened = open_book(place_of(book), writing=False)
    try:
        return opened.state
    finally:
        opened.close()
