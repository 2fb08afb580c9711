"""The entry sheet as PDF: a team fills it in by hand, everybody signs."""

from datetime import datetime
from gettext import NullTranslations

from callroom.model import from_milliseconds, wall_time
from callroom.paper.book_frame import book_frame
from callroom.paper.typesetting import PaperSize, typeset
from callroom.views import wording
from callroom.views.entry_form import FormPlace
from callroom.views.entry_sheet import EntrySheet
from callroom.views.money_wording import money

_LONGEST_TEXT = 6_000


def entry_sheet_pdf(
    view: EntrySheet, *, size: PaperSize, at: datetime, words: NullTranslations
) -> bytes:
    """Return the sheet; the same view gives the same bytes."""
    return typeset("entry_sheet", entry_sheet_payload(view, words), size=size, at=at)


def entry_sheet_payload(view: EntrySheet, words: NullTranslations) -> dict[str, object]:
    """Return what the template draws."""
    say = words.gettext
    heads = [say("Name"), say("Emergency contact: whom, and their number")]
    if view.ages:
        heads.append(say("Date of birth"))
    if view.shirts:
        heads.append(say("Shirt: {sizes}").format(sizes=" ".join(view.shirts)))
    return {
        "frame": book_frame(
            view.head,
            say("Entry sheet"),
            view.at_ms,
            words,
            practice=say("Practice run. Nobody enters by this sheet."),
            invented=say("Demo: this event is invented."),
        ),
        "title": say("Entry: {division}").format(division=view.division),
        "under": _under(view, words),
        "team_fields": [say("Team name"), say("Gym or club"), say("How is the name said?")],
        "captain": say("The captain"),
        "captain_fields": [say("Name"), say("E-mail"), say("Phone")],
        "athletes": say("Athletes"),
        "heads": heads,
        "places": [_place(one, words) for one in view.places],
        "texts": [
            {"title": title, "text": text[:_LONGEST_TEXT]}
            for title, text in (
                (say("Your details"), view.terms.consent if view.terms else ""),
                (say("Taking part"), view.terms.waiver if view.terms else ""),
            )
            if text
        ],
        "sign": say("I have read the text and agree. For somebody under {age} on the day a guardian"
                    " signs, with name and phone.").format(age=view.adult_age)
        if view.terms
        else "",
        "sign_heads": [say("Athlete"), say("Signature"), say("Guardian, phone")],
        "terms": say("Text {number}").format(number=view.terms.number) if view.terms else "",
    }  # fmt: skip


def _under(view: EntrySheet, words: NullTranslations) -> str:
    parts = []
    if view.fee:
        fee = words.gettext("Fee: {amount}")
        parts.append(fee.format(amount=money(view.fee, view.currency, words)))
    if view.closes_ms is not None:
        until = wall_time(from_milliseconds(view.closes_ms), view.head.zone)
        back = words.gettext("To be back by {day}, {time}")
        day = wording.long_date(until.date(), words)
        parts.append(back.format(day=day, time=f"{until:%H:%M}"))
    return " · ".join(parts)


def _place(one: FormPlace, words: NullTranslations) -> str:
    parts = [one.place, one.category_name, words.gettext("reserve") if one.reserve else ""]
    return " · ".join(part for part in parts if part)
