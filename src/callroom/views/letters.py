"""Letters to those who gave, and the sheet that thanks those who may be named."""

from collections.abc import Mapping
from datetime import date

import msgspec

from callroom.funds import Acknowledgment, Payment, acknowledge, payments, split
from callroom.model import State
from callroom.model.money import Budget, Received
from callroom.views.page_head import PageHead, page_head


class LetterLine(msgspec.Struct, frozen=True, kw_only=True):
    """One payment in a letter: when, for what, what it was, and what must be said about it."""

    day: date
    line: str
    goods: str
    benefit_what: str
    told: Acknowledgment


class Letter(msgspec.Struct, frozen=True, kw_only=True):
    """A letter to one giver, or to a team for what it paid; `to` is the name.

    `shares` is what each of a team gave, if they shared alike [minor units]; none for a giver.
    """

    to: str
    is_team: bool
    lines: tuple[LetterLine, ...]
    shares: tuple[int, ...] = ()

    @property
    def paid(self) -> int:
        """All that is acknowledged [minor units]."""
        return sum(one.told.paid for one in self.lines)


class Letters(msgspec.Struct, frozen=True, kw_only=True):
    """All letters, under one head; `charity` is who issues receipts."""

    head: PageHead
    at_ms: int
    currency: str
    charity: str
    letters: tuple[Letter, ...]


class Thanks(msgspec.Struct, frozen=True, kw_only=True):
    """Those who may be thanked by name, sponsors first, and how many more there are."""

    head: PageHead
    at_ms: int
    sponsors: tuple[str, ...]
    givers: tuple[str, ...]
    others: int


def letters(state: State, people: Mapping[str, str]) -> Letters:
    """Return a letter for everyone who gave under a name, and for each team that paid.

    `people` are names by id; whoever was erased gets none.
    """
    budget = state.budget or Budget()
    event = state.event
    currency = event.currency if event is not None else ""
    # Two may have one name: each has their own letter.
    by_payer: dict[tuple[bool, str, str], list[LetterLine]] = {}
    for payment in payments(state.bookings.values()).values():
        to = _addressee(state, payment, people)
        if to is not None and (payment.left or payment.deed.goods):
            by_payer.setdefault(to, []).append(_line(payment, budget, currency))
    return Letters(
        head=page_head(state),
        at_ms=state.at_ms,
        currency=currency,
        charity=budget.charity,
        letters=tuple(
            Letter(
                to=name,
                is_team=is_team,
                lines=tuple(lines),
                shares=_shares(lines, len(state.teams[payer].on_floor)) if is_team else (),
            )
            for (is_team, name, payer), lines in sorted(by_payer.items())
        ),
    )


def thanks(state: State, people: Mapping[str, str]) -> Thanks:
    """Return whom to thank in public; only those who agreed are named."""
    budget = state.budget or Budget()
    sorts = {line.id: line.sort for line in budget.lines}
    named: dict[str, bool] = {}
    others: set[object] = set()
    for payment in payments(state.bookings.values()).values():
        if not payment.left and not payment.deed.goods:
            continue
        name = people.get(payment.giver, "")
        if name and payment.deed.may_name:
            named[name] = named.get(name, False) or sorts.get(payment.line) == "sponsors"
        elif _is_gift(budget, payment):
            others.add(payment.giver or payment.seq)
    return Thanks(
        head=page_head(state),
        at_ms=state.at_ms,
        sponsors=tuple(sorted(name for name, sponsor in named.items() if sponsor)),
        givers=tuple(sorted(name for name, sponsor in named.items() if not sponsor)),
        others=len(others),
    )


def _shares(lines: list[LetterLine], athletes: int) -> tuple[int, ...]:
    given = sum(one.told.gift for one in lines)
    return split(given, athletes) if given and athletes > 1 else ()


def _addressee(
    state: State, payment: Payment, people: Mapping[str, str]
) -> tuple[bool, str, str] | None:
    """Return whether a letter goes to a team, its name, and whose it is by id."""
    if payment.giver:
        name = people.get(payment.giver)
        return None if name is None else (False, name, payment.giver)
    team = state.teams.get(payment.team)
    return None if team is None else (True, team.name, team.id)


def _line(payment: Payment, budget: Budget, currency: str) -> LetterLine:
    deed: Received = payment.deed
    names = {line.id: line.name for line in budget.lines}
    return LetterLine(
        day=deed.day,
        line=names.get(payment.line, payment.line),
        goods=deed.goods,
        benefit_what=deed.benefit_what if payment.benefit else "",
        told=acknowledge(
            budget.country,
            currency,
            paid=payment.left,
            benefit=min(payment.benefit, payment.left),
            is_gift=_is_gift(budget, payment),
        ),
    )


def _is_gift(budget: Budget, payment: Payment) -> bool:
    return any(line.id == payment.line and line.is_gift for line in budget.lines)
