"""The kit to collect and give back as PDF: a page for each lender, counted at both ends."""

from collections.abc import Sequence
from datetime import datetime
from gettext import NullTranslations

from callroom.model import Event, KitItem
from callroom.paper.book_frame import book_frame
from callroom.paper.phrases import LONGEST_NAME
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views.kit_lenders import Lender
from callroom.views.page_head import PageHead
from callroom.views.wording import long_date, mass, one_line, short_day


def kit_sheets_pdf(
    lenders: Sequence[Lender],
    event: Event,
    head: PageHead,
    *,
    size: PaperSize,
    at: datetime,
    at_ms: int,
    words: NullTranslations,
) -> bytes:
    """Return a sheet for each lender, with boxes to tick; the same arguments, the same bytes."""
    say = words.gettext
    floors = {floor.id: floor.name for floor in event.floors}
    payload = {
        "frame": book_frame(
            head,
            say("Kit to collect and return"),
            at_ms,
            words,
            practice=say("Practice run."),
            invented=say("Demo: every team and person is invented."),
        ),
        "signs": [say("Collected: day, names"), say("Given back: day, names"),
                  say("Broken or missing")],
        "sheets": [
            {
                "title": _title(lender, words),
                "under": say("Back by {day} at the latest.").format(
                    day=long_date(lender.due_back, words)
                )
                if lender.due_back is not None
                else "",
                "borrowed": bool(lender.name),
                "columns": _columns(bool(lender.name), words),
                "rows": [_row(item, floors, words) for item in lender.items],
            }
            for lender in lenders
        ],
    }  # fmt: skip
    return typeset("kit_sheets", payload, size=size, at=at)


def _title(lender: Lender, words: NullTranslations) -> str:
    if not lender.name:
        return words.gettext("Our own kit")
    name = name_text(one_line(lender.name, LONGEST_NAME), "")
    return words.gettext("Borrowed from {lender}").format(lender=name)


def _columns(borrowed: bool, words: NullTranslations) -> list[str]:  # noqa: FBT001 - of a sheet
    say = words.gettext
    ends = [say("Collected"), say("Given back")] if borrowed else [say("Packed"), say("Back again")]
    return [say("What"), say("How many"), say("Where"), say("Due back") if borrowed else "", *ends]


def _row(item: KitItem, floors: dict[str, str], words: NullTranslations) -> Payload:
    name = item.name if item.mass is None else f"{item.name}, {mass(item.mass)}"
    return {
        "what": one_line(name, LONGEST_NAME),
        "count": str(item.count),
        "where": one_line(floors.get(item.floor, ""), LONGEST_NAME),
        "due": short_day(item.due_back, words) if item.due_back is not None else "",
    }
