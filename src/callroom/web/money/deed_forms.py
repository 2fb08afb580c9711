"""What is typed about one deed, read into it; every fault at once."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any, Literal, get_args

import msgspec

from callroom.model import CallroomError, Event, Finding, Refusal
from callroom.model.currency import read_amount
from callroom.model.money import (
    AnyDeed,
    Budget,
    Counted,
    Pieces,
    Received,
    Returned,
    Shifted,
    ShiftEnd,
    Spent,
)
from callroom.views.money_wording import typed
from callroom.web.forms.posted import Posted

Form = Literal["received", "spent", "moved", "promised", "counted"]
FORMS: tuple[Form, ...] = get_args(Form)


class MoneyAsKnown(msgspec.Struct, frozen=True, kw_only=True):
    """What a form is read against: the event, its budget, and what day it is at the venue."""

    event: Event
    budget: Budget
    today: date


class DeedReader:
    """Reads the fields of one form; what cannot be read is kept in `faults`.

    A person is typed by name. Whoever is not known yet gets an id and is kept in `new_people`:
    names stay out of the journal.
    """

    def __init__(
        self,
        form: Posted,
        book: MoneyAsKnown,
        known: Mapping[str, str],
        new_id: str,
    ) -> None:
        """Read `form`; `known` are names of people by id, `new_id` begins the ids of new ones."""
        self._form = form
        self._event, self._budget, self._today = book.event, book.budget, book.today
        self._ids = {name.casefold(): person for person, name in known.items()}
        self._new_id = new_id
        self.new_people: dict[str, str] = {}
        self.faults: list[Finding] = []

    def amount(self, field: str, *, needed: bool = True) -> int:
        """Return an amount [minor units]; an empty field is nought, and a fault if needed."""
        text = self._form.text(field)
        if not text and not needed:
            return 0
        try:
            minor = read_amount(text, self._event.currency)
        except CallroomError as fault:
            self.faults.append(fault.finding())
            return 0
        if needed and not minor:
            self.fault("money.nothing_given")
        return minor

    def person(self, field: str) -> str:
        """Return the id of a person typed by name; empty: nobody was named."""
        name = " ".join(self._form.text(field).split())[:80]
        if not name:
            return ""
        known = self._ids.get(name.casefold())
        if known is not None:
            return known
        person = f"{self._new_id}-{len(self.new_people) + 1}"
        self.new_people[person] = name
        self._ids[name.casefold()] = person
        return person

    def day(self) -> date:
        """Return the day, today if none was given."""
        text = self._form.text("day")
        if not text:
            return self._today
        try:
            return date.fromisoformat(text)
        except ValueError:
            self.fault("money.no_day", given=text[:40])
            return self._today

    def fault(self, rule: str, **facts: str | int) -> None:
        """Keep a fault."""
        self.faults.append(Finding(rule=rule, severity="error", subject="money", facts=facts))

    def common(self) -> dict[str, Any]:
        """Return what every deed has."""
        return {"day": self.day(), "what": self._form.text("what")[:200]}

    def received(self) -> AnyDeed | None:
        """Money or goods that came in."""
        form = self._form
        goods = form.text("goods")[:200]
        promise = form.whole("promise")
        return self._made(
            Received,
            line=form.text("line"),
            place=form.text("place"),
            amount=self.amount("amount", needed=not goods),
            goods=goods,
            giver=self.person("giver"),
            team=form.text("team"),
            may_name=form.ticked("may_name"),
            benefit=self.amount("benefit", needed=False)
            if form.text("benefit")
            else self._usual_benefit(form.text("line")),
            benefit_what=form.text("benefit_what")[:200],
            promise=promise or None,
        )

    def _usual_benefit(self, line_id: str) -> int:
        lines = {line.id: line for line in self._budget.lines}
        return lines[line_id].benefit if line_id in lines else 0

    def spent(self, receipt: str) -> AnyDeed | None:
        """A cost that was paid; `receipt` is the id of its picture, empty without one."""
        form = self._form
        paid_by = self.person("paid_by")
        return self._made(
            Spent,
            line=form.text("line"),
            amount=self.amount("amount"),
            place="" if paid_by else form.text("place"),
            paid_by=paid_by,
            receipt=receipt,
        )

    def moved(self) -> AnyDeed | None:
        """Money that changed its place: ends are ``place:box``, ``lent``, ``owed``, ``cause``."""
        source, source_place = _end(self._form.text("from"))
        target, target_place = _end(self._form.text("to"))
        return self._made(
            Shifted,
            amount=self.amount("amount"),
            source=source,
            source_place=source_place,
            target=target,
            target_place=target_place,
            person=self.person("person"),
            fee=self.amount("fee", needed=False),
            fee_line=self._form.text("fee_line"),
        )

    def counted(self, known: int, values: tuple[int, ...]) -> AnyDeed | None:
        """A count of a place that the book thinks holds `known` [minor units]."""
        pieces = [
            Pieces(value=value, count=count)
            for value in values
            if (count := self._form.whole(f"pieces-{value}") or 0)
        ]
        rest = self.amount("rest", needed=False)
        if rest:
            pieces.append(Pieces(value=rest, count=1))
        found = sum(one.value * one.count for one in pieces)
        counters = tuple(self.person(field) for field in ("counter_1", "counter_2"))
        return self._made(
            Counted,
            place=self._form.text("place"),
            pieces=tuple(pieces),
            counted_by=tuple(one for one in counters if one),
            line=self._form.text("line"),
            booked=found - known,
        )

    def returned(self, seq: int) -> AnyDeed | None:
        """What is done with a payment that is not to stay what it was."""
        form = self._form
        how = form.text("how")
        fields = {"refund": "place", "gift": "line", "move": "team"}
        if how not in {*fields, "next_year"}:
            self.fault("money.no_how")
            return None
        asked = {fields[how]: form.text(fields[how])} if how in fields else {}
        return self._made(Returned, of=seq, how=how, amount=self.amount("amount"), **asked)

    def _made(self, kind: Callable[..., AnyDeed], **fields: Any) -> AnyDeed | None:  # noqa: ANN401
        common = self.common()
        return None if self.faults else kind(**common, **fields)


def _end(text: str) -> tuple[ShiftEnd, str]:
    sort, _, place = text.partition(":")
    ends: tuple[ShiftEnd, ...] = get_args(ShiftEnd)
    return next((one for one in ends if one == sort), "place"), place


def filled(deed: AnyDeed, people: Mapping[str, str], currency: str) -> tuple[Form, dict[str, str]]:
    """Return the form in which a deed was typed, and its fields as they were.

    Raises
    ------
    Refusal
        For a count or a return: it is taken back and made anew.
    """
    common = {"day": deed.day.isoformat(), "what": deed.what}
    match deed:
        case Received():
            given = {
                "amount": typed(deed.amount, currency),
                "line": deed.line,
                "place": deed.place,
                "goods": deed.goods,
                "giver": people.get(deed.giver, ""),
                "team": deed.team,
                "benefit": typed(deed.benefit, currency) or "0",
                "benefit_what": deed.benefit_what,
                "promise": str(deed.promise or ""),
                **({"may_name": "on"} if deed.may_name else {}),
            }
            return "received", common | given
        case Spent():
            given = {
                "amount": typed(deed.amount, currency),
                "line": deed.line,
                "place": deed.place,
                "paid_by": people.get(deed.paid_by, ""),
            }
            return "spent", common | given
        case Shifted():
            given = {
                "amount": typed(deed.amount, currency),
                "from": _end_said(deed.source, deed.source_place),
                "to": _end_said(deed.target, deed.target_place),
                "person": people.get(deed.person, ""),
                "fee": typed(deed.fee, currency),
                "fee_line": deed.fee_line,
            }
            return "moved", common | given
        case _:
            raise Refusal("money.made_anew")


def _end_said(sort: ShiftEnd, place: str) -> str:
    return f"{sort}:{place}" if sort == "place" else sort
