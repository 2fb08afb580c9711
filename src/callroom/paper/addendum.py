"""The addendum as PDF: amendments and rulings, to be handed to judges and hung up."""

from datetime import datetime

from callroom.model import from_milliseconds
from callroom.paper.phrases import frame, workout_name
from callroom.paper.typesetting import PaperSize, Payload, typeset
from callroom.views import amendment_wording, wording
from callroom.views.addendum import Addendum
from callroom.views.amendment_text import AmendmentText
from callroom.views.rulings import RulingText
from callroom.views.work_wording import Speech

_LONGEST_TEXT = 2_000


def addendum_pdf(view: Addendum, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return the addendum; the same view gives the same bytes."""
    return typeset("addendum", addendum_payload(view, speech), size=size, at=at)


def addendum_payload(view: Addendum, speech: Speech) -> dict[str, object]:
    """Return what the template draws."""
    words = speech.words
    head = view.masthead
    as_of = wording.clock(from_milliseconds(view.at_ms), head.zone)
    return {
        "frame": frame(head, words.gettext("Amendments and rulings"), words),
        "as_of": words.gettext("As of {time}").format(time=as_of),
        "items": [
            *(_amendment(amendment, view, speech) for amendment in view.amendments),
            *(_ruling(ruling, view, speech) for ruling in view.rulings),
        ],
    }


def _amendment(text: AmendmentText, view: Addendum, speech: Speech) -> Payload:
    words = speech.words
    name = workout_name(text.workout, words)
    said = (text.what, amendment_wording.remedy(text, words))
    return {
        "title": words.gettext("Amendment {number}").format(number=text.number),
        "about": wording.joined_by_dots((name, amendment_wording.since(text, words))),
        "at": wording.clock(from_milliseconds(text.at_ms), view.masthead.zone),
        "lead": wording.one_line(text.why, _LONGEST_TEXT),
        "body": wording.one_line(" ".join(said), _LONGEST_TEXT),
        "gone": "",
    }


def _ruling(ruling: RulingText, view: Addendum, speech: Speech) -> Payload:
    words = speech.words
    about = []
    if ruling.workout is not None:
        about.append(workout_name(ruling.workout, words))
    if ruling.movement:
        about.append(wording.movement(ruling.movement, speech.catalogue))
    at = wording.clock(from_milliseconds(ruling.at_ms), view.masthead.zone)
    gone = words.gettext("Withdrawn: {reason}").format(reason=ruling.withdrawn_for)
    return {
        "title": words.gettext("Ruling {n}").format(n=ruling.number),
        "about": wording.joined_by_dots(about) or words.gettext("every workout"),
        "at": at,
        "lead": wording.one_line(ruling.question, _LONGEST_TEXT),
        "body": wording.one_line(ruling.answer, _LONGEST_TEXT),
        "gone": wording.one_line(gone, _LONGEST_TEXT) if ruling.withdrawn else "",
    }
