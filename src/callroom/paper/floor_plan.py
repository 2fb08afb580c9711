"""The floor plan as PDF: the venue, then the lanes of each workout, to a true scale."""

from collections.abc import Sequence
from datetime import datetime
from gettext import NullTranslations

from callroom.model.mass import MassUnit
from callroom.paper.book_frame import book_frame
from callroom.paper.phrases import LONGEST_NAME
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views.floor_plan import Drawing, Mark, WorkoutPlan
from callroom.views.floor_plan_wording import legend, length
from callroom.views.page_head import PageHead
from callroom.views.wording import one_line

_LONGEST_NOTE = 160


def floor_plan_pdf(
    venue: Drawing,
    workouts: Sequence[WorkoutPlan],
    head: PageHead,
    *,
    size: PaperSize,
    at: datetime,
    at_ms: int,
    words: NullTranslations,
) -> bytes:
    """Return the drawings, each as large as a page holds at a round scale that is written on it."""
    say, unit = words.gettext, head.mass_unit
    payload = {
        "frame": book_frame(
            head,
            say("Floor plan"),
            at_ms,
            words,
            practice=say("Practice run."),
            invented=say("Demo: every team and person is invented."),
        ),
        "labels": {
            "scale": say("Scale 1 : {scale}, if printed at full size"),
            "kit": say("In each lane"),
            "judges": say("Where judges stand"),
            "decides": say(
                "Clearances are common practice. Local fire code, the venue and your insurer "
                "decide; ways out stay free at all times."
            ),
        },
        "legend": [{"role": role, "text": text} for role, text in legend(words)],
        "pages": [
            _page(venue, say("The venue"), unit, words),
            *(
                _page(
                    one.drawing,
                    name_text(one_line(one.workout, LONGEST_NAME), one.drawing.floor),
                    unit,
                    words,
                )
                | {
                    "under": one_line(one.floor_name, LONGEST_NAME),
                    "kit": [f"{count} × {item}" for item, count in one.kit],
                    "judges": [
                        {
                            "movement": one_line(note.movement, LONGEST_NAME),
                            "stands": one_line(note.stands, _LONGEST_NOTE),
                        }
                        for note in one.judges
                    ],
                }
                for one in workouts
            ),
        ],
    }
    return typeset("floor_plan", payload, size=size, at=at)


def _page(
    drawing: Drawing, title: str, unit: MassUnit, words: NullTranslations
) -> dict[str, object]:
    box = drawing.box
    return {
        "title": title,
        "under": "",
        "kit": [],
        "judges": [],
        "x": box.x_mm,
        "y": box.y_mm,
        "length": box.length_mm,
        "width": box.width_mm,
        "grid": drawing.grid_mm,
        "bar": drawing.bar_mm,
        "bar_text": length(drawing.bar_mm, unit, words),
        "text": drawing.text_mm,
        "marks": [_mark(mark) for mark in drawing.marks],
    }


def _mark(mark: Mark) -> Payload:
    return {
        "role": mark.role,
        "x": mark.box.x_mm,
        "y": mark.box.y_mm,
        "length": mark.box.length_mm,
        "width": mark.box.width_mm,
        "lines": list(mark.lines),
        "rising": mark.rising,
        "wall": mark.wall or "",
    }
