"""The verb of the rota: make it, publish it, mend it when somebody drops out."""

import click
import msgspec

from callroom.actions import planned
from callroom.actions.day_now import day_now, typed_s
from callroom.bootstrap import rota_making as making
from callroom.bootstrap.books import AT_THE_KEYBOARD, book_for_commands
from callroom.bootstrap.open_book import OpenBook
from callroom.bootstrap.places import place_of
from callroom.bootstrap.remote import RemoteBook
from callroom.cli.planning_progress import said
from callroom.cli.saying import NO, answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _
from callroom.model import Finding, Refusal, Rota, State
from callroom.views import rota_wording
from callroom.views.day_wording import day_clock
from callroom.views.rota_day import HandOver, Shortage, hand_overs, name_of, rota_day, shortage


@click.command()
@book_argument
@click.option("--dry-run", is_flag=True, help="Show the rota, publish nothing.")
@click.option("--without", default="", metavar="NUMBER", help="A volunteer who drops out.")
@click.option("--since", default="", metavar="HH:MM", help="From when; now, if left out.")
@json_option
@answering
def rota(book: str, dry_run: bool, without: str, since: str, as_json: bool) -> int | None:
    """Make the rota of the plan in force and publish it, or mend it when somebody drops out."""
    opened = book_for_commands(place_of(book))
    try:
        if without:
            return _mend(opened, without, since, dry_run=dry_run, as_json=as_json)
        return _make(opened, dry_run=dry_run, as_json=as_json)
    finally:
        opened.close()


def _make(opened: OpenBook | RemoteBook, *, dry_run: bool, as_json: bool) -> int | None:
    state = opened.state
    made = making.made_for(state)
    found = shortage(making.question(state), made)
    if not dry_run:
        asked = planned.publish_rota(made, state.rota_rules)
        opened.ask_now(AT_THE_KEYBOARD, asked, key=f"rota-{state.seq}")
    if as_json:
        say_json(_summary(state, made, found, published=not dry_run))
    else:
        _say(opened, state, made, found)
    return NO if made.open_shifts() else None


def _summary(state: State, made: Rota, found: Shortage, *, published: bool) -> dict[str, object]:
    return {
        "plan_revision": made.plan_revision,
        "shifts": len(made.shifts),
        "open": len(made.open_shifts()),
        "people": len(state.crew),
        "short": [msgspec.to_builtins(one) for one in found.short],
        "remedies": [msgspec.to_builtins(one) for one in found.remedies],
        "published": published,
    }


def _say(opened: OpenBook | RemoteBook, state: State, made: Rota, found: Shortage) -> None:
    people = opened.people()
    event = state.event
    if event is None:
        raise Refusal("book.no_event")
    for day in rota_day(state, made, people).people:
        held = "; ".join(
            f"{day_clock(event, line.start_s)}–{day_clock(event, line.end_s)} "
            f"{rota_wording.post(line.post) if line.kind == 'duty' else _('competes')}"
            f"{f' {line.lane}' if line.lane is not None else ''}"
            for line in day.bars
        )
        click.echo(f"{(day.name or day.person)[:24]:<24} {held or '–'}")
    progress(
        _("{shifts} shifts, {open} of them held by nobody.").format(
            shifts=len(made.shifts), open=len(made.open_shifts())
        )
    )
    for one in (*found.short, *found.remedies):
        facts = dict(one.facts)
        if "person" in facts:
            facts["person"] = name_of(str(facts["person"]), people)
        if "post" in facts:
            facts["post"] = rota_wording.post(str(facts["post"]))
        progress(said(Finding(one.rule, one.severity, one.subject, facts), event))


def _mend(
    opened: OpenBook | RemoteBook, person: str, since: str, *, dry_run: bool, as_json: bool
) -> int | None:
    state = opened.state
    now_ms = opened.now_ms() if isinstance(opened, OpenBook) else opened.view.now_ms()
    now_s = max(day_now(state, now_ms).now_s, 0)
    from_s = typed_s(state, since) if since else now_s
    illness = making.without(state, person, from_s, now_s)
    moves = hand_overs(state, illness.repair, opened.people())
    if not dry_run and moves:
        asked = making.accepted(state, illness, _("not there any more"))
        opened.ask_now(AT_THE_KEYBOARD, asked, key=f"rota-without-{person}-{state.seq}")
    if as_json:
        say_json({"moves": [msgspec.to_builtins(move) for move in moves]})
    else:
        for move in moves:
            progress(_told(state, move))
        if not moves:
            progress(_("Nobody has to take anything over."))
    return NO if any(not move.after for move in moves) else None


def _told(state: State, move: HandOver) -> str:
    if state.event is None:
        return ""
    return _("{start} {post} {where}: {before} → {after}").format(
        start=day_clock(state.event, move.start_s),
        post=rota_wording.post(move.post),
        where=f"{move.floor} {move.lane or ''}".strip(),
        before=move.before or "–",
        after=move.after or _("nobody"),
    )
