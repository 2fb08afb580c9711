"""The run sheet as PDF: the whole day, or a sheet for each person in charge."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from gettext import NullTranslations
from itertools import groupby

from callroom.model import Event
from callroom.model.person import Person
from callroom.paper.book_frame import book_frame
from callroom.paper.phrases import LONGEST_NAME
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views.day_wording import day_name
from callroom.views.page_head import PageHead
from callroom.views.run_line import RunLine
from callroom.views.run_sheet import RunSheet
from callroom.views.run_wording import line_text, people_text
from callroom.views.wording import clock, one_line

_LONGEST = 200


def run_sheet_pdf(
    sheets: Sequence[tuple[str, bool, RunSheet]],
    event: Event,
    head: PageHead,
    names: Mapping[str, Person],
    *,
    size: PaperSize,
    at: datetime,
    at_ms: int,
    words: NullTranslations,
) -> bytes:
    """Return the sheets, each with its title and whether it is one person's own.

    Every line has a box to tick; nothing of the running day is on them. The same arguments give
    the same bytes.
    """
    say = words.gettext
    payload = {
        "frame": book_frame(
            head,
            say("Run sheet"),
            at_ms,
            words,
            practice=say("Practice run."),
            invented=say("Demo: every team and person is invented."),
        ),
        "note": say(
            "Heats may run later than printed; none starts before its time. What is late stands on "
            "the call board."
        ),
        "sheets": [
            {
                "title": name_text(one_line(title, LONGEST_NAME), say("Run sheet")),
                "days": [
                    {
                        "name": day,
                        "lines": [
                            _line(line, event, words, people_text(line, names, words, alone=alone))
                            for line in lines
                        ],
                    }
                    for day, lines in groupby(
                        sheet.lines, lambda line: day_name(event.wishes.days, line.start_s)
                    )
                ],
            }
            for title, alone, sheet in sheets
        ],
    }
    return typeset("run_sheet", payload, size=size, at=at)


def _line(line: RunLine, event: Event, words: NullTranslations, who: str) -> Payload:
    end_s = line.end_s
    return {
        "start": clock(event.instant(line.start_s), event.zone)[:5],
        "end": "" if end_s is None else clock(event.instant(end_s), event.zone)[:5],
        "kind": line.kind,
        "text": one_line(line_text(line, event, words), _LONGEST),
        "where": one_line(line.where, LONGEST_NAME),
        "who": one_line(who, _LONGEST),
    }
