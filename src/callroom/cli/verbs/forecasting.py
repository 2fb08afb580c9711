"""The verb that forecasts: how long the work takes, who finishes, what the day tests."""

import click
import msgspec

from callroom.bootstrap.books import open_book
from callroom.bootstrap.forecasting import (
    LEAST_TEAMS,
    MOST_TEAMS,
    SEED,
    TEAMS,
    forecast_of,
)
from callroom.bootstrap.places import place_of
from callroom.bootstrap.speech import speech_for
from callroom.cli.saying import answering, book_argument, json_option, say_findings, say_json
from callroom.cli.words import _
from callroom.model import Event
from callroom.views import forecast_wording as written
from callroom.views.forecast import (
    ASKED_PERCENT,
    DayForecast,
    FloorOutlook,
    PartOutlook,
    WorkoutOutlook,
)
from callroom.views.wording import stopwatch
from callroom.views.work_wording import Speech


@click.command()
@book_argument
@click.option(
    "--teams",
    default=TEAMS,
    show_default=True,
    type=click.IntRange(LEAST_TEAMS, MOST_TEAMS),
    help="How many teams of each division to simulate.",
)
@click.option(
    "--seed",
    default=SEED,
    show_default=True,
    type=click.IntRange(min=0),
    help="Of the chance in it: the same seed, the same forecast.",
)
@json_option
@answering
def forecast(book: str, teams: int, seed: int, as_json: bool) -> None:
    """Forecast every workout: finish times, who beats the cap, where teams stall, floor time."""
    opened = open_book(place_of(book), writing=False)
    try:
        state = opened.state
    finally:
        opened.close()
    told = forecast_of(state, teams=teams, seed=seed)
    if as_json:
        say_json(msgspec.to_builtins(told))
        return
    _say(told, speech_for(state))
    _say_programmes(told, state.event)


def _say(told: DayForecast, speech: Speech) -> None:
    for workout in told.workouts:
        click.echo(f"\n{workout.title.id}  {workout.title.name}")
        for line in _lines(workout, speech):
            click.echo(f"   {line}")


def _lines(workout: WorkoutOutlook, speech: Speech) -> list[str]:
    lines = []
    for part in workout.parts:
        for one in part.divisions:
            named = f"{one.division_name} {part.name}".strip()
            lines.append(f"{named[:22]:<22} {'; '.join(_said(one, speech))}")
    lines.extend(f"{floor.division_name[:22]:<22} {_floor(floor)}" for floor in workout.floors)
    return lines


def _said(one: PartOutlook, speech: Speech) -> list[str]:
    kind = one.forecast.kind
    said = [written.span(written.results(one), kind, speech.first)]
    if kind == "time":
        said.append(
            _("{percent} in 100 finish by {cap}").format(
                percent=one.forecast.under_cap_percent, cap=stopwatch(one.forecast.cap_s)
            )
        )
        if one.enough_cap_s is not None:
            said.append(
                _("{percent} in 100 would by {cap}").format(
                    percent=ASKED_PERCENT, cap=stopwatch(one.enough_cap_s)
                )
            )
    stall = written.stall(one, speech.catalogue)
    return [*said, _("held up at {where}").format(where=stall)] if stall else said


def _floor(floor: FloorOutlook) -> str:
    held_s = floor.floor_s.p90 if floor.floor_s.p90 is not None else floor.planned_floor_s
    return _("holds the floor {held} (planned {planned})").format(
        held=stopwatch(held_s), planned=stopwatch(floor.planned_floor_s)
    )


def _say_programmes(told: DayForecast, event: Event | None) -> None:
    for one in told.programmes:
        tested = ", ".join(
            f"{written.capacity(use.capacity)} {use.percent}%" for use in one.programme.capacities
        )
        click.echo(f"\n{one.division_name} ({one.division}): {tested}")
        say_findings(one.programme.findings, as_json=False, event=event)
