"""Amendments as everyone reads them, and what has to be printed anew after one."""

from collections.abc import Callable
from typing import TypeVar

import msgspec
from msgspec.structs import replace

from callroom.model import Amendment, Event, Finding, NotFound, State, Workout
from callroom.planner.check import check_plan
from callroom.planner.crew_judges import with_crew_judges
from callroom.views.addendum import Addendum, addendum
from callroom.views.amendment_text import AmendmentText, amendment_text
from callroom.views.cards import Cards, cards
from callroom.views.heat_sheet import HeatSheet, HeatSheets, heat_sheets
from callroom.views.masthead import published
from callroom.views.team_day import TeamDay, TeamDays, team_days
from callroom.views.timetable import CREW, Audience, Timetable, timetable

_AHEAD = frozenset({"waiting", "called"})
Part = TypeVar("Part")


class Touched(msgspec.Struct, frozen=True, kw_only=True):
    """What an amendment made stale, each as it now has to be.

    `cards` and `heat_sheets` are those of heats still to come; `team_days` those in which the
    workout is told differently; `timetable` is None where no time or name in it changed.
    `faults` is what is wrong with the plan since, and was not before: it has to be planned
    again.
    """

    text: AmendmentText
    cards: Cards
    heat_sheets: HeatSheets
    team_days: TeamDays
    timetable: Timetable | None
    addendum: Addendum
    faults: tuple[Finding, ...]


def touched(state: State, number: int, now_s: int | None = None) -> Touched:
    """Return what amendment `number` made stale, as the book now stands.

    Parameters
    ----------
    now_s
        The time [s from the day's start]: what goes home with people shows what is released.

    Raises
    ------
    NotFound
        If there is no such amendment, or no plan.
    """
    amendment = state.amendments.get(str(number))
    if amendment is None:
        raise NotFound("amendment.unknown", number=number)
    event, _ = published(state)
    before = replace(state, event=_event_with(event, amendment.before))
    public = Audience(public=True, now_s=now_s)
    days, times = team_days(state, public), timetable(state, public)
    return Touched(
        text=amendment_text(state, amendment, CREW),
        cards=_cards(state, amendment),
        heat_sheets=_heat_sheets(state, before, amendment),
        team_days=replace(days, days=_changed(team_days(before, public).days, days.days, _team_of)),
        timetable=times if times != timetable(before, public) else None,
        addendum=addendum(state),
        faults=_new_faults(state, before),
    )


def _event_with(event: Event, workout: Workout) -> Event:
    workouts = tuple(workout if one.id == workout.id else one for one in event.workouts)
    return replace(event, workouts=workouts)


def _cards(state: State, amendment: Amendment) -> Cards:
    """Every card of the workout has its number on it, so all of heats to come are stale."""
    _, plan = published(state)
    return cards(
        state,
        {
            heat.id
            for heat in plan.heats
            if heat.workout == amendment.workout and state.heat_run(heat.id).stage in _AHEAD
        },
    )


def _heat_sheets(state: State, before: State, amendment: Amendment) -> HeatSheets:
    now, then = heat_sheets(state), heat_sheets(before)
    changed = _changed(then.sheets, now.sheets, _heat_of)
    return replace(
        now,
        sheets=tuple(
            sheet
            for sheet in changed
            if sheet.heat.workout.id == amendment.workout and sheet.heat.stage in _AHEAD
        ),
    )


def _changed(
    before: tuple[Part, ...], now: tuple[Part, ...], named: Callable[[Part], str]
) -> tuple[Part, ...]:
    known = {named(one): one for one in before}
    return tuple(one for one in now if known.get(named(one)) != one)


def _team_of(day: TeamDay) -> str:
    return day.team


def _heat_of(sheet: HeatSheet) -> str:
    return sheet.heat.id


def _new_faults(state: State, before: State) -> tuple[Finding, ...]:
    then = {(found.rule, found.subject) for found in _faults(before)}
    return tuple(found for found in _faults(state) if (found.rule, found.subject) not in then)


def _faults(state: State) -> tuple[Finding, ...]:
    event, plan = published(state)
    withdrawn = state.team_status.keys()
    judged = with_crew_judges(event, state.crew.values())
    return check_plan(judged, state.teams.values(), plan, withdrawn=withdrawn)
