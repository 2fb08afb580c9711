"""The rota as PDF: one big sheet of everybody, and a sheet for each volunteer."""

from datetime import datetime
from gettext import NullTranslations
from typing import Literal

from callroom.paper.phrases import LONGEST_NAME, clock, clock_after, frame
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import rota_wording, wording
from callroom.views.masthead import Masthead
from callroom.views.rota_day import DutyLine, PersonDay, RotaDay
from callroom.views.work_wording import Speech

HOUR_S = 3600
_LONGEST = 90


def rota_pdf(view: RotaDay, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return the whole rota, a line for each volunteer, on paper of twice the `size`."""
    big: Literal["a3", "us-tabloid"] = "a3" if size == "a4" else "us-tabloid"
    return typeset("rota", rota_payload(view, speech), size=big, at=at)


def rota_payload(view: RotaDay, speech: Speech) -> dict[str, object]:
    """Return what the template of the big sheet draws; places are thousandths of its width."""
    words, head = speech.words, view.masthead
    first_s = view.first_s - view.first_s % HOUR_S
    span = max(view.last_s - first_s, 1)

    def place(offset_s: int) -> int:
        return (offset_s - first_s) * 1000 // span

    return {
        "frame": frame(head, words.gettext("Rota"), words),
        "labels": {
            "judges": words.gettext("judges in the lane written on it"),
            "holds": words.gettext("holds another post"),
            "competes": words.gettext("competes"),
        },
        "hours": [
            {
                "at": place(offset_s),
                "text": clock_after(
                    head, offset_s, offset_s - HOUR_S if offset_s > first_s else None, words
                ),
            }
            for offset_s in range(first_s, view.last_s, HOUR_S)
        ],
        "people": [
            {
                "name": _name(day),
                "number": day.person,
                "total": rota_wording.hours(day.on_duty_s) if day.on_duty_s else "–",
                "bars": [
                    {
                        "kind": "judges" if line.post == "judge" else line.kind,
                        "at": place(line.start_s),
                        "width": max(place(line.end_s) - place(line.start_s), 1),
                        "text": _bar(line, words),
                    }
                    for line in day.lines
                ],
            }
            for day in view.people
        ],
    }


def _bar(line: DutyLine, words: NullTranslations) -> str:
    if line.kind == "pause":
        return ""
    if line.lane is not None:
        return str(line.lane)
    return rota_wording.post(line.post, words)


def person_days_pdf(view: RotaDay, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return a sheet for each volunteer who has something to do, a page each."""
    return typeset("person_days", person_days_payload(view, speech), size=size, at=at)


def person_days_payload(view: RotaDay, speech: Speech) -> dict[str, object]:
    """Return what the template of the sheets draws."""
    words, head = speech.words, view.masthead
    return {
        "frame": frame(head, words.gettext("Crew sheets"), words),
        "labels": {
            "lane": words.gettext("Lane"),
            "number": words.gettext("Number"),
            "as_planned": words.gettext(
                "Heats may run later than printed. Be at your post five minutes before; if you "
                "cannot, tell the desk at once, so that somebody else can come."
            ),
        },
        "days": [_day(day, head, words) for day in view.people if day.bars],
    }


def _day(day: PersonDay, head: Masthead, words: NullTranslations) -> Payload:
    total = words.gettext("on duty for {time}").format(time=rota_wording.hours(day.on_duty_s))
    return {
        "name": _name(day),
        "number": day.person,
        "total": total,
        "lines": [
            _line(line, before, head, words)
            for before, line in zip((None, *day.lines), day.lines, strict=False)
        ],
    }


def _line(
    line: DutyLine, before: DutyLine | None, head: Masthead, words: NullTranslations
) -> Payload:
    if line.kind == "pause":
        title = wording.one_line(line.name, LONGEST_NAME)
    elif line.kind == "competes":
        title = words.gettext("You compete")
    else:
        title = rota_wording.post(line.post, words)
    return {
        "kind": line.kind,
        "start": clock_after(head, line.start_s, before.start_s if before else None, words),
        "end": clock(head, line.end_s),
        "title": title[:1].upper() + title[1:],
        "where": wording.one_line(line.floor, LONGEST_NAME),
        "lane": str(line.lane) if line.lane is not None else "",
        "heats": wording.one_line(rota_wording.heats(line, words), _LONGEST),
    }


def _name(day: PersonDay) -> str:
    return name_text(wording.one_line(day.name, LONGEST_NAME), day.person)
