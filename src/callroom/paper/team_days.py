"""Team timetables as PDF: a page for each team, to be taken home or hung up."""

from datetime import datetime

from callroom.paper.phrases import (
    LONGEST_NAME,
    day_and_clock,
    frame,
    released_at,
    team_name,
    times_of_all,
    workout_name,
)
from callroom.paper.qr import qr_svg
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import wording, work_wording
from callroom.views.line_ups import place_said
from callroom.views.masthead import Masthead
from callroom.views.team_day import TeamDay, TeamDays, TeamHeat
from callroom.views.timetable import PauseSlot
from callroom.views.work import PartWork, WorkBlock, WorkRow
from callroom.views.work_wording import Speech

_LONGEST_TEXT = 600


def team_days_pdf(view: TeamDays, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return the day of every team of `view` in one PDF, a page each."""
    pictures = {day.team: qr_svg(day.address) for day in view.days if day.address}
    payload = team_days_payload(view, speech)
    return typeset("team_days", payload, size=size, at=at, pictures=pictures)


def team_days_payload(view: TeamDays, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    return {
        "frame": frame(view.masthead, words.gettext("Team timetables"), words),
        "labels": {
            "lane": words.gettext("Lane"),
            "qr": words.gettext("QR code that opens this team’s day, and its check-in"),
            "check_in": words.gettext("Check-in"),
            "as_planned": words.gettext(
                "A heat may start later than printed, and earlier only when every team in it is "
                "there. Look at the call board before you warm up."
            ),
        },
        "days": [_day(day, view.masthead, speech) for day in view.days],
    }


def _day(day: TeamDay, head: Masthead, speech: Speech) -> Payload:
    line_up = (place_said(place) for place in day.line_up)
    stops = [
        *((heat.heat.report_s, _heat(heat, head, speech)) for heat in day.heats),
        *((pause.start_s, _pause(pause, head, speech)) for pause in day.pauses),
    ]
    return {
        "team": team_name(day.name, day.team),
        "id": day.team if day.address else "",
        "division": wording.one_line(day.division, LONGEST_NAME),
        "line_up": wording.one_line(wording.joined_by_dots(line_up), 100),
        "stops": [stop for _, stop in sorted(stops, key=lambda stop: stop[0])],
    }


def _pause(pause: PauseSlot, head: Masthead, speech: Speech) -> Payload:
    name = name_text(wording.one_line(pause.name, LONGEST_NAME), pause.id)
    start = day_and_clock(head, pause.start_s, speech.words)
    return {"kind": "pause", "start": start, "name": name}


def _heat(heat: TeamHeat, head: Masthead, speech: Speech) -> Payload:
    words = speech.words
    number = words.gettext("Heat {number}").format(number=heat.heat.number)
    return {
        "kind": "heat",
        "number": heat.heat.workout.number,
        "name": workout_name(heat.heat.workout, words),
        "released": released_at(heat.heat.workout, head, words),
        "where": wording.joined_by_dots((wording.one_line(heat.floor, LONGEST_NAME), number)),
        "lane": str(heat.lane),
        "times": times_of_all(heat.heat, head, words),
        "text": wording.one_line(heat.text, _LONGEST_TEXT),
        "parts": [_part(part, speech, several=len(heat.parts) > 1) for part in heat.parts],
    }


def _part(part: PartWork, speech: Speech, *, several: bool) -> Payload:
    name = speech.words.gettext("Part {name}").format(name=part.name or part.id.upper())
    return {
        "name": name if several else "",
        "goal": wording.goal(part.part, speech.words),
        "blocks": [
            {"rounds": _rounds(block, speech), "tasks": [_task(row, speech) for row in block.rows]}
            for block in part.blocks
        ],
    }


def _rounds(block: WorkBlock, speech: Speech) -> str:
    words = speech.words
    if block.open_ended and block.round_counts:
        return words.gettext("again and again until time is up:")
    if block.rounds > 1:
        return words.gettext("{count} rounds:").format(count=block.rounds)
    return ""


def _task(row: WorkRow, speech: Speech) -> Payload:
    amounts = [work_wording.amount(row, index, speech) for index in range(len(row.amounts))]
    said = amounts[:1] if len(set(amounts)) == 1 else amounts
    return {
        "amount": "-".join(said),
        "movement": work_wording.movement_name(row.task, speech),
        "settings": list(work_wording.settings(row, speech)),
        "reminders": wording.joined_by_dots(work_wording.reminders(row, speech)),
    }
