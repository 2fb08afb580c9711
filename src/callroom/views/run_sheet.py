"""The run sheet: the whole day in order of time, with who is in charge of each thing."""

from collections.abc import Mapping

import msgspec

from callroom.model import Event, State
from callroom.views.day_times import NO_TIMES, DayTimes
from callroom.views.run_line import CrewOfDay, RunLine
from callroom.views.run_lines import lines_of_kit, lines_of_plan, lines_of_rota, lines_of_side

_ORDER: Mapping[str, int] = {
    kind: place
    for place, kind in enumerate(
        (
            "shift",
            "set_up",
            "doors",
            "check_in",
            "briefing",
            "release",
            "pause",
            "side",
            "changeover",
            "heat",
            "posting",
            "pack",
            "kit_back",
        )
    )
}
_AROUND_S = 7_200


class RunSheet(msgspec.Struct, frozen=True, kw_only=True):
    """The day; `now_s` is None where it is not this day. `people` and `posts` have a line."""

    lines: tuple[RunLine, ...]
    now_s: int | None
    people: tuple[str, ...]
    posts: tuple[str, ...]


def run_sheet(
    state: State, event: Event, now_s: int | None = None, times: DayTimes = NO_TIMES
) -> RunSheet:
    """Return the whole run sheet.

    Parameters
    ----------
    now_s
        The time [s from the day's start]; it marks what is past and on, from two hours before
        the first line until two hours after the last.
    times
        When heats are to be expected.
    """
    crew = CrewOfDay(state)
    lines = [*lines_of_side(state), *lines_of_kit(state, crew), *lines_of_rota(state, event)]
    if state.plan is not None:
        lines += lines_of_plan(state, event, state.plan, crew, times)
    ordered = sorted(lines, key=lambda one: (one.start_s, _ORDER[one.kind], one.where))
    on_the_day = now_s is not None and ordered and _near(ordered, now_s)
    marked = (
        [_marked(one, now_s) for one in ordered] if on_the_day and now_s is not None else ordered
    )
    return RunSheet(
        lines=tuple(marked),
        now_s=now_s if on_the_day else None,
        people=tuple(dict.fromkeys(who.person for one in marked for who in one.people)),
        posts=tuple(dict.fromkeys(post for one in marked for post in one.posts)),
    )


def for_person(sheet: RunSheet, person: str) -> RunSheet:
    """Return the lines in which somebody has a part; only they are named in them."""
    mine = (
        msgspec.structs.replace(
            one, people=tuple(who for who in one.people if who.person == person)
        )
        for one in sheet.lines
    )
    return msgspec.structs.replace(sheet, lines=tuple(one for one in mine if one.people))


def for_post(sheet: RunSheet, post: str) -> RunSheet:
    """Return the lines that concern a post."""
    lines = tuple(one for one in sheet.lines if post in one.posts)
    return msgspec.structs.replace(sheet, lines=lines)


def _near(lines: list[RunLine], now_s: int) -> bool:
    last_s = max(one.end_s if one.end_s is not None else one.start_s for one in lines)
    return lines[0].start_s - _AROUND_S <= now_s <= last_s + _AROUND_S


def _marked(line: RunLine, now_s: int) -> RunLine:
    """Say whether a line is past or on: a late heat with its expected time."""
    late_s = 0 if line.expected_s is None else line.expected_s - line.start_s
    end_s = (line.start_s if line.end_s is None else line.end_s) + late_s
    if line.standing != "ahead":
        return line
    if end_s <= now_s:
        return msgspec.structs.replace(line, standing="past")
    # Everybody is on duty somewhere all day: that marks nothing.
    on = line.start_s + late_s <= now_s and line.kind != "shift"
    return msgspec.structs.replace(line, standing="now") if on else line
