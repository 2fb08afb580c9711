"""Letters to those who gave, the sheet of thanks for the wall, and sheets to count cash on."""

from datetime import datetime
from gettext import NullTranslations

from callroom.paper.money_phrases import money_frame
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import wording
from callroom.views.count_sheet import CountSheet
from callroom.views.letters import Letter, LetterLine, Letters, Thanks
from callroom.views.money_wording import NEEDS, amount, money

_LONGEST = 120
_OF_ONE_PAYMENT = frozenset(NEEDS) - {"ask_adviser", "charity_issues"}


def letters_pdf(view: Letters, *, size: PaperSize, at: datetime, words: NullTranslations) -> bytes:
    """Return all letters, a page for each; the same view gives the same bytes."""
    return typeset("letters", letters_payload(view, words), size=size, at=at)


def letters_payload(view: Letters, words: NullTranslations) -> dict[str, object]:
    """Return what the template draws."""
    say = words.gettext
    return {
        "frame": money_frame(view.head, say("Thank you"), view.at_ms, words),
        "letters": [_letter(one, view, words) for one in view.letters],
        "none": say("Nobody gave under a name, and no team has paid yet."),
    }


def thanks_pdf(view: Thanks, *, size: PaperSize, at: datetime, words: NullTranslations) -> bytes:
    """Return the sheet of thanks for the wall."""
    say = words.gettext
    others = words.ngettext(
        "and {count} more who gave without being named",
        "and {count} more who gave without being named",
        view.others,
    ).format(count=view.others)
    payload = {
        "frame": money_frame(view.head, say("Thank you"), view.at_ms, words),
        "title": say("Thank you"),
        "cause": wording.one_line(view.head.cause, _LONGEST),
        "groups": [
            {"title": title, "names": [_name(one) for one in names]}
            for title, names in (
                (say("Our sponsors"), view.sponsors),
                (say("Those who gave"), view.givers),
            )
            if names
        ],
        "others": others if view.others else "",
        "all": say("and everyone who lifted, judged, carried, baked and came."),
    }
    return typeset("thanks", payload, size=size, at=at)


def count_sheets_pdf(
    view: CountSheet, *, size: PaperSize, at: datetime, words: NullTranslations
) -> bytes:
    """Return one sheet for each place with cash, with lines for two people's counts."""
    say = words.gettext
    payload = {
        "frame": money_frame(view.head, say("Cash count"), view.at_ms, words),
        "places": [wording.one_line(one, _LONGEST) for one in view.places] or [say("Cash")],
        "values": [amount(one, view.currency, words) for one in view.values],
        "heads": [say("Each"), say("First count"), say("Second count"), say("Amount")],
        "currency": view.currency,
        "rest": say("Anything else"),
        "total": say("Together, the float included"),
        "float": say("Float put in"),
        "left": say("Without the float"),
        "fields": [say("Day and time"), say("Counted by"), say("and by"), say("Booked by")],
        "note": say(
            "Two people count, each for themselves, and both sign. If the counts differ, count again "
            "together. Nobody takes the box home alone: pay it in, or seal the bag and sign over the "
            "seal."
        ),
    }
    return typeset("count_sheets", payload, size=size, at=at)


def _letter(letter: Letter, view: Letters, words: NullTranslations) -> Payload:
    say = words.gettext
    return {
        "to": _name(letter.to),
        "greeting": (say("Dear team {name},") if letter.is_team else say("Dear {name},")).format(
            name=_name(letter.to)
        ),
        "lead": say(
            "thank you. {event} on {day} was held for {cause}, and this is what we received from you."
        ).format(
            event=view.head.event,
            day=wording.long_date(view.head.day, words) if view.head.day is not None else "–",
            cause=view.head.cause or say("a good cause"),
        ),
        "heads": [say("Day"), say("For"), say("Received"), say("Worth in return"), say("Given")],
        "rows": [_row(one, view.currency, words) for one in letter.lines if one.told.paid],
        "total": money(letter.paid, view.currency, words),
        "total_label": say("Together"),
        "goods": [
            say("In kind: {goods}. A gift in kind is described here, not valued.").format(
                goods=wording.one_line(one.goods, 200)
            )
            for one in letter.lines
            if one.goods
        ],
        "notes": [
            *_shared(letter, view.currency, words),
            *_notes(letter.lines, view.currency, words),
        ],
        "charity": say("Receipts are issued by: {charity}").format(
            charity=wording.one_line(view.charity, 200)
        )
        if view.charity
        else "",
        "sign": say("For the event: name, date, signature"),
    }


def _row(line: LetterLine, currency: str, words: NullTranslations) -> Payload:
    told = line.told
    worth = amount(told.benefit, currency, words) if told.benefit else "–"
    named = wording.one_line(line.benefit_what, 80) if told.benefit else ""
    return {
        "day": line.day.isoformat(),
        "line": wording.one_line(line.line, _LONGEST),
        "paid": amount(told.paid, currency, words),
        "benefit": worth,
        "benefit_what": named,
        "gift": amount(told.gift, currency, words),
    }


def _shared(letter: Letter, currency: str, words: NullTranslations) -> list[str]:
    """Return what each of a team gave if they shared alike; nothing for a single giver."""
    if not letter.shares:
        return []
    each = " · ".join(amount(one, currency, words) for one in dict.fromkeys(letter.shares))
    said = words.gettext("If the {count} of you shared alike, each gave {each} {currency}.")
    return [said.format(count=len(letter.shares), each=each, currency=currency)]


def _notes(lines: tuple[LetterLine, ...], currency: str, words: NullTranslations) -> list[str]:
    """Return what must be said about the lines, each sentence once.

    Where a letter is about several payments, a sentence that is not true of all of them
    begins with the payment it is about.
    """
    paid = [line for line in lines if line.told.paid]
    said = []
    for line in paid:
        for need in line.told.needs:
            sentence = words.gettext(NEEDS[need]).format(
                benefit=money(line.told.benefit, currency, words),
                gift=money(line.told.gift, currency, words),
                reclaim=money(line.told.reclaim or 0, currency, words),
            )
            if need in _OF_ONE_PAYMENT and len(paid) > 1:
                sentence = words.gettext("{line}, {amount}: {sentence}").format(
                    line=wording.one_line(line.line, _LONGEST),
                    amount=money(line.told.paid, currency, words),
                    sentence=sentence,
                )
            said.append(sentence)
    return list(dict.fromkeys(said)) or [words.gettext(NEEDS["ask_adviser"])]


def _name(name: str) -> str:
    return name_text(wording.one_line(name, _LONGEST), "–")
