"""The verb about money: how it stands, and the statement and account book as files."""

from pathlib import Path
from typing import Any

import click

from callroom.bootstrap.books import open_book
from callroom.bootstrap.money_files import money_files
from callroom.bootstrap.places import place_of
from callroom.bootstrap.speech import speech_for
from callroom.cli.saying import NO, answering, book_argument, json_option, progress, say_json
from callroom.cli.verbs.printing import SIZES
from callroom.cli.words import _
from callroom.model import State, from_milliseconds
from callroom.paper import PaperSize
from callroom.paper.giving_letters import count_sheets_pdf
from callroom.paper.statements import statement_pdf
from callroom.views.count_sheet import count_sheet
from callroom.views.money import LIKELY, MoneyView, money_view
from callroom.views.money_wording import amount
from callroom.views.sentences import sentence
from callroom.views.statement import statement


@click.command()
@book_argument
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    help="Write the statement, count sheets and account book into this folder.",
)
@click.option("--size", type=click.Choice(list(SIZES)), default="a4", show_default=True)
@json_option
@answering
def money(book: str, out: Path | None, size: str, as_json: bool) -> int | None:
    """Show how the money stands, planned and actual; 1 if the statement does not balance."""
    opened = open_book(place_of(book), writing=False)
    try:
        state = opened.state
    finally:
        opened.close()
    view = money_view(state)
    files = _write(state, out, SIZES[size]) if out is not None else ()
    if as_json:
        say_json(_summary(view) | {"files": [str(path) for path in files]})
    else:
        _say(view)
        for path in files:
            progress(str(path))
    return None if view.now.balances else NO


def _write(state: State, out: Path, size: PaperSize) -> tuple[Path, ...]:
    words = speech_for(state).words
    at = from_milliseconds(state.at_ms)
    made = {
        "statement.pdf": statement_pdf(statement(state), size=size, at=at, words=words),
        "count-sheets.pdf": count_sheets_pdf(count_sheet(state), size=size, at=at, words=words),
        **money_files(state, words),
    }
    out.mkdir(parents=True, exist_ok=True)
    for name, content in made.items():
        (out / name).write_bytes(content)
    return tuple(out / name for name in made)


def _say(view: MoneyView) -> None:
    for rows, title, total in (
        (view.side("income"), _("Income"), view.now.income),
        (view.side("cost"), _("Costs"), view.now.costs),
    ):
        click.echo(f"\n{title:<40} {_('planned'):>14} {_('actual'):>14}")
        for row in rows:
            planned, actual = (
                amount(value, view.currency) for value in (row.planned[LIKELY], row.actual.amount)
            )
            click.echo(f"  {row.line.name[:38]:<38} {planned:>14} {actual:>14}")
        click.echo(f"  {_('Together'):<38} {'':>14} {amount(total, view.currency):>14}")
    net = amount(view.now.net, view.currency)
    click.echo(f"\n{_('For the cause'):<40} {'':>14} {net:>14} {view.currency}")
    for finding in view.findings:
        click.echo(f"- {sentence(finding, _)}")


def _summary(view: MoneyView) -> dict[str, Any]:
    """Return the sums as whole minor units."""
    return {
        "currency": view.currency,
        "income": view.now.income,
        "costs": view.now.costs,
        "net": view.now.net,
        "places": {row.place.id: row.amount for row in view.places},
        "lent": view.now.lent,
        "owed": sum(view.now.owed.values()),
        "handed_over": view.now.handed_over,
        "next_year": view.now.next_year,
        "to_hand_over": view.now.to_hand_over,
        "promised": view.promised,
        "balances": view.now.balances,
        "break_even": {one.scenario.id: one.break_even for one in view.outlooks},
        "lines": [
            {
                "id": row.line.id,
                "side": row.line.side,
                "planned": list(row.planned),
                "entered": row.entered,
                "actual": row.actual.amount,
                "promised": row.promised,
            }
            for row in view.rows
        ],
        "findings": [finding.rule for finding in view.findings],
    }
