"""Rules for money: nothing is booked twice, to nowhere, or above what there is to settle."""

from callroom.actions.case import Case, need_reason
from callroom.actions.check_in_rules import need_fee_at_check_in
from callroom.funds import payments, place_balance
from callroom.journal.entries import money_bodies as bodies
from callroom.model import BadInput, Finding, Refusal, Stale
from callroom.model.currency import exact_amount
from callroom.model.money import (
    AnyDeed,
    Booking,
    Budget,
    BudgetLine,
    Counted,
    Received,
    Returned,
    Shifted,
    Side,
    Spent,
)

SCENARIOS = 3
NEEDED_COUNTERS = 2


def budget_set(case: Case, body: bodies.BudgetSet) -> None:
    """A budget whose parts have names of their own, and that keeps every part money is on."""
    budget = body.budget
    faults = (*_faults(case, budget), *_lost(case, budget))
    if faults:
        raise BadInput(faults)


def money_booked(case: Case, body: bodies.MoneyBooked) -> None:
    """A deed between lines and places that there are; others take cash at the check-in only."""
    if case.actor.role != "director":
        need_fee_at_check_in(case, body.booked)
    match body.booked:
        case Received() as deed:
            _received(case, deed)
        case Spent() as deed:
            _spent(case, deed)
        case Shifted() as deed:
            _shifted(case, deed)
        case Returned() as deed:
            _returned(case, deed)
        case Counted() as deed:
            _counted(case, deed)


def money_reversed(case: Case, body: bodies.MoneyReversed) -> None:
    """A booking that stands, of which nothing was settled since, for a reason."""
    booking = _booking(case, body.seq)
    if not booking.stands:
        raise Refusal("money.reversed_already", booking=body.seq)
    need_reason(body.reason)
    for later in case.state.bookings.values():
        if later.stands and isinstance(later.deed, Returned) and later.deed.of == body.seq:
            raise Refusal("money.settled_since", booking=body.seq, later=later.seq)


def money_promised(case: Case, body: bodies.MoneyPromised) -> None:
    """A promise for a line of income."""
    _line(case, body.line, "income")


def promise_ended(case: Case, body: bodies.PromiseEnded) -> None:
    """A promise of which something is still to come, for a reason."""
    promise = case.state.promises.get(str(body.seq))
    if promise is None or promise.ended_seq is not None:
        raise Refusal("money.promise_unknown", promise=body.seq)
    need_reason(body.reason)


def receipt_kept(case: Case, body: bodies.ReceiptKept) -> None:
    """A picture for a cost that stands."""
    booking = _booking(case, body.seq)
    if not booking.stands or not isinstance(booking.deed, Spent) or not body.receipt:
        raise Refusal("money.no_cost", booking=body.seq)


def _received(case: Case, deed: Received) -> None:
    _line(case, deed.line, "income")
    if deed.amount:
        _need_place(case, deed.place)
    elif not deed.goods.strip():
        raise Refusal("money.nothing_given")
    if deed.team:
        case.team(deed.team)
    if deed.promise is not None:
        promise = case.state.promises.get(str(deed.promise))
        if promise is None or promise.ended_seq is not None:
            raise Refusal("money.promise_unknown", promise=deed.promise)


def _spent(case: Case, deed: Spent) -> None:
    _line(case, deed.line, "cost")
    if bool(deed.place) == bool(deed.paid_by):
        raise Refusal("money.who_paid")
    if deed.place:
        _need_place(case, deed.place)


def _shifted(case: Case, deed: Shifted) -> None:
    ends = ((deed.source, deed.source_place), (deed.target, deed.target_place))
    if ends[0] == ends[1]:
        raise Refusal("money.same_place")
    if "place" not in {deed.source, deed.target}:
        raise Refusal("money.place_unknown", place="–")
    for sort, place in ends:
        if sort == "place":
            _need_place(case, place)
        elif sort == "owed" and not deed.person:
            raise Refusal("money.nobody_owed")
    if deed.fee:
        _line(case, deed.fee_line, "cost")
        if deed.fee > deed.amount:
            raise Refusal("money.fee_above", fee=deed.fee, amount=deed.amount)


def _returned(case: Case, deed: Returned) -> None:
    payment = payments(case.state.bookings.values()).get(deed.of)
    if payment is None:
        raise Refusal("money.no_payment", booking=deed.of)
    if deed.amount > payment.left:
        raise Refusal(
            "money.above_left",
            booking=deed.of,
            left=_said(case, payment.left),
            currency=case.event.currency,
        )
    if deed.how == "refund":
        _need_place(case, deed.place)
    elif deed.how == "gift":
        if not _line(case, deed.line, "income").is_gift:
            raise Refusal("money.no_gift_line", line=deed.line)
    elif deed.how == "move" and case.team(deed.team).id == payment.team:
        raise Refusal("money.same_team", team=deed.team)


def _counted(case: Case, deed: Counted) -> None:
    _need_place(case, deed.place)
    known = place_balance(case.state.bookings.values(), deed.place)
    if deed.booked != deed.found - known:
        raise Stale("money.moved_since", place=_budget(case).place(deed.place).name)
    if deed.booked and not deed.line:
        raise Refusal(
            "money.count_differs",
            place=_budget(case).place(deed.place).name,
            difference=_said(case, deed.booked),
            currency=case.event.currency,
        )
    if deed.booked:
        _line(case, deed.line, None)
    if len(set(deed.counted_by) - {""}) < NEEDED_COUNTERS:
        raise Refusal("money.counted_by_two")


def _said(case: Case, minor: int) -> str:
    return str(exact_amount(minor, case.event.currency))


def _budget(case: Case) -> Budget:
    if case.state.budget is None:
        raise Refusal("money.no_budget")
    return case.state.budget


def _line(case: Case, line_id: str, side: Side | None) -> BudgetLine:
    try:
        line = _budget(case).line(line_id)
    except KeyError:
        raise Refusal("money.line_unknown", line=line_id or "–") from None
    if side is not None and line.side != side:
        raise Refusal("money.other_side", line=line.name, side=side)
    return line


def _need_place(case: Case, place_id: str) -> None:
    try:
        _budget(case).place(place_id)
    except KeyError:
        raise Refusal("money.place_unknown", place=place_id or "–") from None


def _booking(case: Case, seq: int) -> Booking:
    booking = case.state.bookings.get(str(seq))
    if booking is None:
        raise Refusal("money.no_booking", booking=seq)
    return booking


def _faults(case: Case, budget: Budget) -> tuple[Finding, ...]:
    found = []
    for field, things in (
        ("lines", budget.lines),
        ("places", budget.places),
        ("scenarios", budget.scenarios),
    ):
        ids = [one.id for one in things]
        found += [
            _fault("money.twice", f"budget.{field}", id=one)
            for one in sorted(set(ids))
            if ids.count(one) > 1 or not one
        ]
        nameless = [one.id for one in things if not one.name.strip()]
        found += [_fault("money.nameless", f"budget.{field}", id=one) for one in nameless]
    if len(budget.scenarios) != SCENARIOS:
        found.append(_fault("money.scenarios", "budget.scenarios", given=len(budget.scenarios)))
    divisions = {division.id for division in case.event.divisions} | {""}
    strange = {line.division for line in budget.lines} - divisions
    strange |= {one.division for two in budget.scenarios for one in two.teams} - divisions
    found += [_fault("money.division", "budget", division=one) for one in sorted(strange)]
    return tuple(found)


def _lost(case: Case, budget: Budget) -> list[Finding]:
    """Find what was booked on and would be gone, or would stand on the other side."""
    lines = {line.id: line.side for line in budget.lines}
    places = {place.id for place in budget.places}
    before = case.state.budget or Budget()
    used = _used([one.deed for one in case.state.bookings.values()])
    used |= {("line", one.line) for one in case.state.promises.values()}
    found = [
        _fault("money.line_used", "budget.lines", line=line.name)
        for line in before.lines
        if ("line", line.id) in used and lines.get(line.id) != line.side
    ]
    found += [
        _fault("money.place_used", "budget.places", place=place.name)
        for place in before.places
        if ("place", place.id) in used and place.id not in places
    ]
    return found


def _used(deeds: list[AnyDeed]) -> set[tuple[str, str]]:
    used: set[tuple[str, str]] = set()
    for deed in deeds:
        match deed:
            case Received() | Spent() | Returned() | Counted():
                used |= {("line", deed.line), ("place", deed.place)}
            case Shifted():
                used |= {("line", deed.fee_line)}
                used |= {("place", deed.source_place), ("place", deed.target_place)}
    return used


def _fault(rule: str, subject: str, **facts: str | int) -> Finding:
    return Finding(rule=rule, severity="error", subject=subject, facts=facts)
