"""The statement for the cause as PDF: gross, costs, net, how it was counted, signatures."""

from datetime import datetime
from gettext import NullTranslations

from callroom.paper.money_phrases import money_frame
from callroom.paper.typesetting import PaperSize, Payload, typeset
from callroom.views import wording
from callroom.views.money import LineRow
from callroom.views.money_wording import amount, money
from callroom.views.sentences import sentence
from callroom.views.statement import CountLine, Statement

_LONGEST = 120


def statement_pdf(
    view: Statement, *, size: PaperSize, at: datetime, words: NullTranslations
) -> bytes:
    """Return the statement; the same view gives the same bytes."""
    return typeset("statement", statement_payload(view, words), size=size, at=at)


def statement_payload(view: Statement, words: NullTranslations) -> dict[str, object]:
    """Return what the template draws."""
    say, told = words.gettext, view.money
    now = told.now
    currency = told.currency
    return {
        "frame": money_frame(view.head, say("Statement"), view.at_ms, words),
        "lead": say("What {event} brought for {cause}.").format(
            event=view.head.event, cause=view.head.cause or say("the cause")
        ),
        "net_label": say("For the cause"),
        "net": money(now.net, currency, words),
        "income": _table(say("What came in"), view.income, now.income, currency, words),
        "costs": _table(say("What it cost"), view.costs, now.costs, currency, words),
        "where_title": say("Where it is"),
        "where": _where(view, words),
        "balances": say("Both sides agree.")
        if now.balances
        else say("THE TWO SIDES DO NOT AGREE: do not sign."),
        "counted_title": say("How it was counted"),
        "counted": [_count(one, currency, words) for one in view.counts]
        or [say("No cash was counted.")],
        "open_title": say("Still open"),
        "open": [sentence(one, say) for one in told.findings if one.rule != "money.promises_open"],
        "promised": say("Promised and not received, in no total: {amount}.").format(
            amount=money(told.promised, currency, words)
        )
        if told.promised
        else "",
        "charity": wording.one_line(view.charity, _LONGEST),
        "record": say("Made after entry {seq} of the event's record.").format(seq=view.seq),
        "signatures": [
            {"who": who, "sign": say("Name, date, signature")}
            for who in (say("For the event"), say("Second person"), say("For the cause"))
        ],
    }


def _table(
    title: str,
    rows: tuple[LineRow, ...],
    total: int,
    currency: str,
    words: NullTranslations,
) -> Payload:
    say = words.gettext
    return {
        "title": title,
        "rows": [
            {
                "name": wording.one_line(row.line.name, _LONGEST),
                "note": say("after {amount} returned or kept for next year").format(
                    amount=amount(row.actual.returned, currency, words)
                )
                if row.actual.returned
                else "",
                "amount": amount(row.actual.amount, currency, words),
            }
            for row in rows
        ],
        "total_label": say("Together"),
        "total": amount(total, currency, words),
    }


def _where(view: Statement, words: NullTranslations) -> list[Payload]:
    say, currency, now = words.gettext, view.money.currency, view.money.now
    lines = [(row.place.name, row.amount) for row in view.money.places if row.amount]
    lines += [
        (say("less what was lent for the tills"), -now.lent),
        (say("less what is owed to people"), -sum(now.owed.values())),
        (say("less what is kept for next year"), -now.next_year),
        (say("handed over to the cause already"), now.handed_over),
    ]
    told = [
        {"name": wording.one_line(name, _LONGEST), "amount": amount(value, currency, words)}
        for name, value in lines
        if value
    ]
    total = now.to_hand_over + now.handed_over
    return [
        *told,
        {"name": say("For the cause"), "amount": amount(total, currency, words), "total": "yes"},
    ]


def _count(one: CountLine, currency: str, words: NullTranslations) -> str:
    people = words.ngettext("{count} person", "{count} people", one.people).format(count=one.people)
    said = words.gettext("{day}, {place}: {found} found by {people}").format(
        day=one.day.isoformat(),
        place=one.place,
        found=money(one.found, currency, words),
        people=people,
    )
    if not one.booked:
        return words.gettext("{count}; as the book had it.").format(count=said)
    if one.booked < 0:
        return words.gettext("{count}; {missing} less than the book had, on {line}.").format(
            count=said, missing=amount(-one.booked, currency, words), line=one.line
        )
    return words.gettext("{count}; {booked} of it new, on {line}.").format(
        count=said, booked=amount(one.booked, currency, words), line=one.line
    )
