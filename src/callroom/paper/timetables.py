"""The drawn day: each floor's lanes against time, and all floors side by side."""

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from datetime import date, datetime

import msgspec

from callroom.model import wall_time
from callroom.paper.phrases import (
    LONGEST_NAME,
    clock,
    frame,
    released_at,
    said_ahead,
    team_name,
    workout_name,
)
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import wording
from callroom.views.masthead import Masthead
from callroom.views.timetable import FloorDay, HeatSlot, PauseSlot, Timetable, WorkoutTitle
from callroom.views.work_wording import Speech

# A heat must be drawn high enough for two lines of names; the drawing's own height on a page.
_LEAST_HEAT_MM = 8
_DRAWING_MM = {"a4": 216, "us-letter": 199}
_QUARTER_S = 900


def floors_pdf(view: Timetable, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return each floor's timetable, drawn to time: lanes across, the day downwards.

    A long day takes several pages at one scale, parted between heats.
    """
    payload = floors_payload(view, _DRAWING_MM[size], speech)
    return typeset("floors", payload, size=size, at=at)


def overview_pdf(view: Timetable, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return the whole day on one page, floors side by side, drawn to time.

    An event of several days has a page for each of them.
    """
    return typeset("overview", overview_payload(view, speech), size=size, at=at)


def floors_payload(view: Timetable, drawing_mm: int, speech: Speech) -> dict[str, object]:
    """Return what the template draws; `drawing_mm` is the height there is for it [mm]."""
    words = speech.words
    lengths_s = [heat.end_s - heat.start_s for floor in view.floors for heat in floor.heats]
    room_s = drawing_mm * min(lengths_s, default=0) // _LEAST_HEAT_MM
    pages = [
        _floor_page(floor, heats, view.masthead, speech)
        for floor in view.floors
        for heats in _parted(floor.heats, room_s)
    ]
    ahead = said_ahead(view, words)
    return {
        "frame": frame(view.masthead, words.gettext("Floor timetables"), words),
        "labels": {"lane": words.gettext("Lane")},
        "scale_s": max((page.to_s - page.from_s for page in pages), default=0),
        "pages": [
            {**page.payload, "before": wording.joined_by_dots((ahead, page.before))}
            for page in pages
        ],
    }


def overview_payload(view: Timetable, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    titles = {heat.workout for floor in view.floors for heat in floor.heats}
    dates = sorted(
        {_date(view, heat.start_s) for floor in view.floors for heat in floor.heats}
        | {_date(view, pause.start_s) for pause in view.pauses}
    )
    return {
        "frame": frame(view.masthead, words.gettext("The day"), words),
        "ahead": said_ahead(view, words),
        "workouts": [
            _title(title, view.masthead, speech)
            for title in sorted(titles, key=lambda title: title.number)
        ],
        "pages": [
            _date_page(view, day, speech)
            | {"day": wording.long_date(day, words) * (len(dates) > 1)}
            for day in dates or [view.masthead.day]
        ],
    }


def _date(view: Timetable, offset_s: int) -> date:
    return wall_time(view.masthead.instant(offset_s), view.masthead.zone).date()


def _date_page(view: Timetable, day: date, speech: Speech) -> dict[str, object]:
    """Return what begins on one calendar day of the venue, on all floors."""
    head = view.masthead
    heats: list[list[HeatSlot]] = [
        [heat for heat in floor.heats if _date(view, heat.start_s) == day] for floor in view.floors
    ]
    pauses: list[list[PauseSlot]] = [
        [pause for pause in floor.pauses if _date(view, pause.start_s) == day]
        for floor in view.floors
    ]
    spans = [(heat.start_s, heat.end_s) for row in heats for heat in row]
    spans += [(pause.start_s, pause.end_s) for row in pauses for pause in row]
    spans += [(p.start_s, p.end_s) for p in view.pauses if _date(view, p.start_s) == day]
    first_s, last_s = _whole_quarters(
        min((start_s for start_s, _ in spans), default=0),
        max((end_s for _, end_s in spans), default=0),
    )
    return {
        "from_s": first_s,
        "to_s": last_s,
        "ticks": _ticks(first_s, last_s, head),
        "floors": [
            {
                "name": name_text(wording.one_line(floor.name, LONGEST_NAME), floor.id),
                "heats": [_heat(heat, head, speech) for heat in row],
                "pauses": [_pause(pause, head) for pause in rests],
            }
            for floor, row, rests in zip(view.floors, heats, pauses, strict=True)
        ],
    }


class _FloorPage(msgspec.Struct, frozen=True):
    from_s: int
    to_s: int
    before: str
    payload: Payload


def _floor_page(
    floor: FloorDay, heats: Sequence[HeatSlot], head: Masthead, speech: Speech
) -> _FloorPage:
    lanes = sorted({place.lane for heat in floor.heats for place in heat.places})
    from_s, to_s = _whole_quarters(heats[0].start_s, max(heat.end_s for heat in heats))
    within = [pause for pause in floor.pauses if from_s <= pause.start_s and pause.end_s <= to_s]
    following_s = min((heat.start_s for heat in floor.heats if heat.start_s >= to_s), default=None)
    later = (
        pause
        for pause in floor.pauses
        if pause not in within
        and pause.start_s >= heats[-1].start_s
        and (following_s is None or pause.start_s < following_s)
    )
    earlier = (
        pause
        for pause in floor.pauses
        if heats[0] is floor.heats[0] and pause not in within and pause.start_s < heats[0].start_s
    )
    name = name_text(wording.one_line(floor.name, LONGEST_NAME), floor.id)
    on = wall_time(head.instant(heats[0].start_s), head.zone).date()
    day = "" if on == head.day else wording.weekday(on, speech.words)
    payload = {
        "floor": wording.joined_by_dots((name, day)),
        "from_s": from_s,
        "to_s": to_s,
        "ticks": _ticks(from_s, to_s, head),
        "lanes": [str(lane) for lane in lanes],
        "heats": [{**_heat(heat, head, speech), "cells": _cells(heat, lanes)} for heat in heats],
        "pauses": [_pause(pause, head) for pause in within],
        "after": _said(later, head),
    }
    return _FloorPage(from_s, to_s, _said(earlier, head), payload)


def _parted(heats: Sequence[HeatSlot], room_s: int) -> list[list[HeatSlot]]:
    """Part heats, in time order, into the fewest pages of at most `room_s`, evenly filled."""
    fewest = len(_filled(heats, room_s))
    quarters = range(0, room_s, _QUARTER_S)
    # Pages never get fewer as they get shorter, so the least length that does is found by halving.
    at = bisect_left(quarters, -fewest, key=lambda length_s: -len(_filled(heats, length_s)))
    return _filled(heats, quarters[at] if at < len(quarters) else room_s)


def _filled(heats: Sequence[HeatSlot], room_s: int) -> list[list[HeatSlot]]:
    """Fill pages of `room_s` one after the other; a page holds at least one heat."""
    pages: list[list[HeatSlot]] = []
    for heat in heats:
        if pages and heat.end_s - pages[-1][0].start_s + 2 * _QUARTER_S <= room_s:
            pages[-1].append(heat)
        else:
            pages.append([heat])
    return pages


def _whole_quarters(first_s: int, last_s: int) -> tuple[int, int]:
    """Return the bounds drawn out to quarters of an hour, at least one of them."""
    from_s = first_s // _QUARTER_S * _QUARTER_S
    return from_s, max(-(-last_s // _QUARTER_S) * _QUARTER_S, from_s + _QUARTER_S)


def _ticks(first_s: int, last_s: int, head: Masthead) -> list[Payload]:
    """Return every quarter of an hour; the venue's full hours carry their time."""
    ticks: list[Payload] = []
    for at_s in range(first_s, last_s + 1, _QUARTER_S):
        text = clock(head, at_s)
        ticks.append({"at_s": at_s, "text": text if text.endswith(":00") else ""})
    return ticks


def _title(title: WorkoutTitle, head: Masthead, speech: Speech) -> dict[str, object]:
    return {
        "number": title.number,
        "name": workout_name(title, speech.words),
        "released": released_at(title, head, speech.words),
    }


def _heat(heat: HeatSlot, head: Masthead, speech: Speech) -> dict[str, object]:
    words = speech.words
    teams = sum(not place.withdrawn for place in heat.places)
    return {
        "from_s": heat.start_s,
        "to_s": heat.end_s,
        "start": clock(head, heat.start_s),
        "workout": _title(heat.workout, head, speech),
        "heat": words.gettext("Heat {number}").format(number=heat.number),
        "divisions": ", ".join(division for division in heat.divisions if division),
        "teams": words.ngettext("{count} team", "{count} teams", teams).format(count=teams),
    }


def _pause(pause: PauseSlot, head: Masthead) -> Payload:
    return {
        "from_s": pause.start_s,
        "to_s": pause.end_s,
        "start": clock(head, pause.start_s),
        "name": name_text(wording.one_line(pause.name, LONGEST_NAME), pause.id),
    }


def _said(pauses: Iterable[PauseSlot], head: Masthead) -> str:
    drawn = (_pause(pause, head) for pause in pauses)
    return wording.joined_by_dots(f"{pause['start']} {pause['name']}" for pause in drawn)


def _cells(heat: HeatSlot, lanes: list[int]) -> list[str]:
    names = {
        place.lane: team_name(place.name, place.team)
        for place in heat.places
        if not place.withdrawn
    }
    return [names.get(lane, "") for lane in lanes]
