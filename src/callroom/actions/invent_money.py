"""Invented money for a rehearsal: what a day's treasurer does, from the first float to the count.

All of it is made up. The sums are made so that the day ends with every till counted and
every float given back, and the statement can be signed.
"""

import random
from collections.abc import Iterator, Mapping
from datetime import timedelta
from types import MappingProxyType
from typing import Any

import msgspec

from callroom.actions.invent_budget import invented_budget, money_unit
from callroom.actions.money import book_money, note_promise, set_budget
from callroom.actions.request import Request
from callroom.model import Event, Plan, State, milliseconds
from callroom.model.money import (
    AnyDeed,
    BudgetLine,
    Counted,
    LineSort,
    Pieces,
    PlaceSort,
    Received,
    Shifted,
    Spent,
)

GIVERS: Mapping[str, str] = MappingProxyType(
    {
        "invented-1": "Quay Street Bakers (invented)",
        "invented-2": "Ellory Timber and Rope (invented)",
        "invented-3": "Maud Penhallow (invented)",
    }
)
"""Those who give in a rehearsal, by id; their names are kept beside the journal."""

_GIFTS = 14
_BY_CARD = 0.4
_ENTRY_DAYS = 45


class MoneyCue(msgspec.Struct, frozen=True, kw_only=True):
    """What the treasurer does at a moment [ms, UTC]."""

    at_ms: int
    request: Request


def money_cues(state: State, seed: int) -> tuple[MoneyCue, ...]:
    """Return the treasurer's day, in order of time; the same State and seed give the same.

    It is booked on the book's own budget, or on an invented one. Nothing is invented in a book
    whose own money has begun: it would be mixed with the real.
    """
    if state.event is None or state.plan is None or state.bookings:
        return ()
    day = _Day(state, state.event, state.plan, seed)
    return tuple(sorted(day.cues(), key=lambda cue: cue.at_ms))


class _Day:
    """Makes the cues and keeps what the tills will hold by then.

    A line or a place that the budget does not have is passed over with what would be on it.
    """

    def __init__(self, state: State, event: Event, plan: Plan, seed: int) -> None:
        self._state = state
        self._event = event
        self._plan = plan
        self._unit = money_unit(event.currency)
        self._rng = random.Random(f"{seed}/money")  # noqa: S311 - invented, no secret
        self._budget = state.budget or invented_budget(event)
        self._held = {place.id: 0 for place in self._budget.places}
        cash = [place.id for place in self._budget.places if place.sort == "cash"]
        tills = cash or list(self._held) or [""]
        self._box, self._till = tills[0], tills[-1]
        self._bank = self._first("bank") or self._box
        self._card = self._first("card") or self._bank
        # Who counts is of the crew; with fewer than two of them nothing is counted.
        self._counters = tuple(sorted(state.crew))[:2]

    def _first(self, sort: PlaceSort) -> str:
        return next((one.id for one in self._budget.places if one.sort == sort), "")

    def _line(self, sort: LineSort, division: str = "") -> BudgetLine | None:
        """Return the line for something, one of the division before one for all."""
        fitting = [one for one in self._budget.lines if one.sort == sort]
        mine = [one for one in fitting if one.division == division]
        return next(iter(mine or [one for one in fitting if not one.division]), None)

    def cues(self) -> Iterator[MoneyCue]:
        """Return everything, each part at its time."""
        start_ms = milliseconds(self._event.starts_at)
        end_ms = milliseconds(self._event.instant(self._plan.finish_s))
        if self._state.budget is None:
            yield self._cue(start_ms - 300_000, set_budget(self._budget))
        if not self._held:
            return
        at_ms = start_ms - 290_000
        for deed in (*self._entries(), *self._before()):
            at_ms += 1_000
            yield self._book(at_ms, deed)
        sponsors = self._line("sponsors")
        if sponsors is not None:
            # A promise that is not kept that day.
            amount = 150 * self._unit
            promise = note_promise(sponsors.id, amount, giver="invented-2", may_name=True)
            yield self._cue(at_ms + 1_000, promise)
        for share, deed in self._during():
            yield self._book(start_ms + (end_ms - start_ms) * share // 100, deed)
        at_ms = end_ms
        for deed in self._after():
            at_ms += 60_000
            yield self._book(at_ms, deed)

    def _entries(self) -> Iterator[AnyDeed]:
        sizes = {one.id: one.team_size for one in self._event.divisions}
        for team in self._state.teams.values():
            line = self._line("entries", team.division)
            size = sizes.get(team.division, 0)
            asked = line.per_team + line.per_head * size if line is not None else 0
            if line is not None and asked and team.id not in self._state.team_status:
                yield from self._received(
                    line,
                    asked,
                    place=self._card if self._rng.random() < _BY_CARD else self._bank,
                    day=self._event.day - timedelta(days=self._rng.randrange(_ENTRY_DAYS)),
                    team=team.id,
                    benefit=min(line.benefit, asked),
                    benefit_what="lunch and water" if line.benefit else "",
                )

    def _before(self) -> Iterator[AnyDeed]:
        unit, sponsors = self._unit, self._line("sponsors")
        yield self._moved(100 * unit, source="lent", target_place=self._box)
        yield self._moved(60 * unit, source="lent", target_place=self._till)
        if sponsors is not None:
            named = {"giver": "invented-1", "may_name": True}
            yield from self._received(sponsors, 500 * unit, place=self._bank, **named)
            goods = "forty loaves"
            yield Received(day=self._event.day, line=sponsors.id, goods=goods, giver="invented-1")
        yield from self._received(
            self._line("donations"), 260 * unit, giver="invented-3", may_name=True
        )
        for sort in ("hire", "insurance", "shirts", "prizes"):
            line = self._line(sort)
            if line is not None and line.fixed:
                yield self._spent(line, line.fixed * 98 // 100 or 1, place=self._bank)
        food = self._line("food")
        if food is not None and self._counters:
            yield self._spent(food, 212 * unit, paid_by=self._counters[0])

    def _during(self) -> Iterator[tuple[int, AnyDeed]]:
        """Return gifts and the raffle, each with how much of the day is over by then [%]."""
        for number in range(_GIFTS):
            amount = self._rng.choice((5, 10, 10, 20, 20, 50)) * self._unit
            place = self._rng.choice((self._box, self._card, self._card))
            for deed in self._received(self._line("donations"), amount, place=place):
                yield 6 + 6 * number, deed
        for deed in self._received(self._line("raffle"), 231 * self._unit, place=self._box):
            yield 60, deed

    def _after(self) -> Iterator[AnyDeed]:
        """Count, pay out, give floats back, and bring the cash to the bank."""
        unit = self._unit
        if self._counters[1:]:
            yield from self._count(self._till, 318 * unit, self._line("stalls"))
            yield from self._count(self._box, -1 * unit, self._line("difference"))
        yield self._moved(60 * unit, source_place=self._till, target="lent")
        yield self._moved(100 * unit, source_place=self._box, target="lent")
        fees = self._line("fees")
        for place, held in tuple(self._held.items()):
            if held > 0 and place != self._bank:
                fee = held * 15 // 1000 if fees is not None and place == self._card else 0
                yield self._moved(
                    held,
                    source_place=place,
                    target_place=self._bank,
                    fee=fee,
                    fee_line=fees.id if fees is not None and fee else "",
                )
        if self._line("food") is not None and self._counters:
            yield self._moved(
                212 * unit, source_place=self._bank, target="owed", person=self._counters[0]
            )

    def _received(
        self,
        line: BudgetLine | None,
        amount: int,
        *,
        place: str = "",
        **more: Any,  # noqa: ANN401
    ) -> Iterator[Received]:
        if line is None:
            return
        where = place or self._bank
        self._held[where] += amount
        fields: dict[str, Any] = {"day": self._event.day, "line": line.id, "place": where} | more
        yield Received(amount=amount, **fields)

    def _spent(self, line: BudgetLine, amount: int, *, place: str = "", paid_by: str = "") -> Spent:
        if place:
            self._held[place] -= amount
        return Spent(day=self._event.day, line=line.id, amount=amount, place=place, paid_by=paid_by)

    def _moved(self, amount: int, *, fee: int = 0, **ends: Any) -> Shifted:  # noqa: ANN401
        for end, sign in (("source_place", -amount), ("target_place", amount - fee)):
            if end in ends:
                self._held[ends[end]] += sign
        return Shifted(day=self._event.day, amount=amount, fee=fee, **ends)

    def _count(self, place: str, news: int, line: BudgetLine | None) -> Iterator[Counted]:
        found = self._held[place] + (news if line is not None else 0)
        if found < 0:
            return
        booked = found - self._held[place]
        self._held[place] = found
        yield Counted(
            day=self._event.day,
            place=place,
            pieces=tuple(self._pieces(found)),
            counted_by=self._counters,
            line=line.id if line is not None and booked else "",
            booked=booked,
        )

    def _pieces(self, amount: int) -> Iterator[Pieces]:
        for value in (20 * self._unit, 5 * self._unit, self._unit, 1):
            count, amount = divmod(amount, value)
            if count:
                yield Pieces(value=value, count=count)

    def _book(self, at_ms: int, deed: AnyDeed) -> MoneyCue:
        return self._cue(at_ms, book_money(deed))

    def _cue(self, at_ms: int, request: Request) -> MoneyCue:
        return MoneyCue(at_ms=at_ms, request=request)
