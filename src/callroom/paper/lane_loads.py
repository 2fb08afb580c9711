"""Changeover sheets as PDF: a page for each lane, every bar of its day."""

from datetime import datetime
from gettext import NullTranslations

from callroom.paper.phrases import LONGEST_NAME, clock_after, frame, workout_name
from callroom.paper.typesetting import PaperSize, Payload, typeset
from callroom.views import wording
from callroom.views.kit_day import BarRow, KitSheets, LaneSheet, load_text, plates_text
from callroom.views.masthead import Masthead
from callroom.views.work_wording import Speech


def lane_loads_pdf(view: KitSheets, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return a sheet for each lane of every floor on which bars are lifted."""
    return typeset("lane_loads", lane_loads_payload(view, speech), size=size, at=at)


def lane_loads_payload(view: KitSheets, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    return {
        "frame": frame(view.masthead, words.gettext("Changeover sheets"), words),
        "labels": {
            "lane": words.gettext("Lane"),
            "walk_on": words.gettext("Walk on"),
            "heat": words.gettext("Heat"),
            "bar": words.gettext("Bar"),
            "load": words.gettext("Load"),
            "off": words.gettext("Off, each side"),
            "on": words.gettext("On, each side"),
            "stands": words.gettext("Then on each side, from the inside"),
            "how": words.gettext(
                "What comes off first stands first. Both sides are alike; heavier plates go inside."
            ),
        },
        "lanes": [
            _lane(lane, view.masthead, words) for floor in view.floors for lane in floor.lanes
        ],
    }


def _lane(lane: LaneSheet, head: Masthead, words: NullTranslations) -> Payload:
    return {
        "lane": str(lane.lane),
        "floor": wording.one_line(lane.floor, LONGEST_NAME),
        "rows": [
            _row(row, before, head, words)
            for before, row in zip((None, *lane.rows), lane.rows, strict=False)
        ],
    }


def _row(row: BarRow, before: BarRow | None, head: Masthead, words: NullTranslations) -> Payload:
    rung = words.gettext("load {number}").format(number=row.rung) if row.rung > 1 else ""
    heat = words.gettext("Heat {number}").format(number=row.number)
    return {
        "start": clock_after(head, row.start_s, before.start_s if before else None, words),
        "heat": wording.joined_by_dots((workout_name(row.workout, words), heat, rung)),
        "bar": wording.joined_by_dots(
            (row.category, load_text([row.bar], words) if row.bar else "–")
        ),
        "load": words.gettext("for later")
        if row.early
        else words.gettext("no bar")
        if row.bar is None
        else load_text(row.wanted, words) or words.gettext("empty bar"),
        "off": plates_text(row.off, words),
        "on": plates_text(row.on, words),
        "stands": plates_text(row.sleeve, words),
        "changes": row.moves > 0,
    }
