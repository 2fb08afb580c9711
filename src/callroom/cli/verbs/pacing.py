"""The verb that holds the forecast against results, and goes on with the pace they show."""

from pathlib import Path

import click

from callroom.actions.paces import drop_paces, take_paces
from callroom.bootstrap.books import AT_THE_KEYBOARD, book_for_commands, open_book
from callroom.bootstrap.calibrating import calibration_of, carried_from
from callroom.bootstrap.places import place_of
from callroom.cli.saying import NO, answering, book_argument, json_option, progress, say_json
from callroom.cli.words import _
from callroom.model import State
from callroom.model.forecast import Pace
from callroom.model.pace import pace_key
from callroom.views import forecast_wording as written


@click.command()
@book_argument
@click.option(
    "--from",
    "finished",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    metavar="BOOK",
    help="Carry over what another, finished book has shown, by divisions of the same id.",
)
@click.option("--use", is_flag=True, help="Forecast with these paces from now on.")
@click.option("--drop", is_flag=True, help="Forecast as the model says again.")
@json_option
@answering
def pace(book: str, finished: Path | None, use: bool, drop: bool, as_json: bool) -> int | None:
    """Show how fast teams really are against the forecast, and go on with that."""
    if use and drop:
        raise click.UsageError(_("Give --use or --drop, not both."))
    opened = book_for_commands(place_of(book))
    try:
        state = opened.state
        paces = _measured(state) if finished is None else _carried(finished, state)
        if drop and state.paces:
            asked = drop_paces(state.paces.values())
            opened.ask_now(AT_THE_KEYBOARD, asked, key=f"pace-{state.seq}")
        elif use and paces:
            measured, carried = (paces, ()) if finished is None else ((), paces)
            asked = take_paces(measured, carried)
            opened.ask_now(AT_THE_KEYBOARD, asked, key=f"pace-{state.seq}")
    finally:
        opened.close()
    if as_json:
        say_json({"paces": [_row(one, state) for one in paces], "used": use and bool(paces)})
    else:
        _say(paces, state)
    return NO if not paces and not drop else None


def _measured(state: State) -> tuple[Pace, ...]:
    told = calibration_of(state)
    return tuple(one.pace for one in told.measured if one.pace is not None)


def _carried(finished: Path, state: State) -> tuple[Pace, ...]:
    other = open_book(finished, writing=False)
    try:
        return carried_from(other.state, state)
    finally:
        other.close()


def _row(one: Pace, state: State) -> dict[str, object]:
    used = state.paces.get(pace_key(one.workout, one.part, one.division))
    return {
        "workout": one.workout,
        "part": one.part,
        "division": one.division,
        "permille": one.permille,
        "low_permille": one.low_permille,
        "high_permille": one.high_permille,
        "teams": one.teams,
        "finished": one.finished,
        "used_before_permille": used.permille if used is not None else None,
    }


def _say(paces: tuple[Pace, ...], state: State) -> None:
    for one in paces:
        ends = (written.pace(one.low_permille), written.pace(one.high_permille))
        where = f"{one.workout} {one.part} {one.division}"
        click.echo(f"{where:<24} {written.pace(one.permille):<14} {ends[0]} … {ends[1]}")
    if not paces:
        progress(_("No pace can be told: it takes three finished teams of a division."))
    elif state.paces:
        progress(_("Paces in use so far: {count}").format(count=len(state.paces)))
