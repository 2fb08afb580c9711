"""Invented money for a rehearsal: what a day's treasurer does, from the first float to the count.

All of it is made up. The sums are made so that the day ends with every till counted and
every float given back, and the statement can be signed.
"""

import random
from collections.abc import Iterator, Mapping
from datetime import date
from types import MappingProxyType
from typing import Any

import msgspec
from msgspec.structs import replace

from callroom.actions.money import book_money, note_promise, set_budget
from callroom.actions.money_start import starter_budget
from callroom.actions.request import Request
from callroom.funds import place_balance
from callroom.model import Event, Plan, State, milliseconds
from callroom.model.currency import minor_digits
from callroom.model.money import (
    AnyDeed,
    Budget,
    Counted,
    Pieces,
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

_PLANNED: Mapping[str, int] = MappingProxyType(
    {
        "sponsors": 600,
        "donations": 400,
        "stalls": 350,
        "raffle": 250,
        "insurance": 180,
        "shirts": 0,
        "food": 220,
        "prizes": 120,
        "fees": 60,
    }
)
_FEE, _BENEFIT = 30, 8
"""A team's entry for each athlete, and what of it comes back as lunch and water."""

_GIFTS = 14


class MoneyCue(msgspec.Struct, frozen=True, kw_only=True):
    """What the treasurer does at a moment [ms, UTC]."""

    at_ms: int
    request: Request


def money_cues(state: State, seed: int) -> tuple[MoneyCue, ...]:
    """Return the treasurer's day, in order of time; the same State and seed give the same.

    Nothing is invented in a book whose own money has begun: it would be mixed with the real.
    """
    if state.event is None or state.plan is None or state.bookings or state.budget is not None:
        return ()
    day = _Day(state, state.event, state.plan, seed)
    return tuple(sorted(day.cues(), key=lambda cue: cue.at_ms))


def invented_budget(event: Event) -> Budget:
    """Return the usual budget with invented sums in it, shown to the hall."""
    unit = _unit(event.currency)
    start = starter_budget(event)
    sizes = {one.id: one.team_size for one in event.divisions}
    fixed = {**_PLANNED, "hire": _hire(event) + 30}
    lines = tuple(
        replace(
            line,
            fixed=fixed.get(line.id, 0) * unit,
            per_team=sizes.get(line.division, 0) * _FEE * unit,
            per_head=3 * unit if line.id == "food" else 0,
            benefit=sizes.get(line.division, 0) * _BENEFIT * unit,
        )
        for line in start.lines
    )
    places = sum(one.count for one in start.scenarios[-1].teams)
    return replace(start, lines=lines, goal=(places * 120 + 500) * unit, on_screen=True)


def _hire(event: Event) -> int:
    """Return what hall and kit cost, by the athletes of a full house [about euros]."""
    sizes = {one.id: one.team_size for one in event.divisions}
    full = starter_budget(event).scenarios[-1]
    return 70 + 8 * sum(one.count * sizes[one.division] for one in full.teams)


def _unit(currency: str) -> int:
    """Return the minor units of about one euro: a hundred of a currency without minor units."""
    digits = minor_digits(currency)
    return int(10**digits) if digits else 100


class _Day:
    """Makes the cues and keeps what the tills will hold by then."""

    def __init__(self, state: State, event: Event, plan: Plan, seed: int) -> None:
        self._state = state
        self._event = event
        self._plan = plan
        self._unit = _unit(event.currency)
        self._rng = random.Random(f"{seed}/money")  # noqa: S311 - invented, no secret
        self._held = {
            place: place_balance(state.bookings.values(), place)
            for place in ("box", "till", "card")
        }
        # Counters are people of the crew; without a crew the count is left to the reader.
        self._counters = tuple(sorted(state.crew))[:2]

    def cues(self) -> Iterator[MoneyCue]:
        """Return everything, each part at its time."""
        start_ms = milliseconds(self._event.starts_at)
        end_ms = milliseconds(self._event.instant(self._plan.finish_s))
        yield self._cue(start_ms - 300_000, set_budget(invented_budget(self._event)))
        at_ms = start_ms - 290_000
        for deed in (*self._entries(), *self._before()):
            at_ms += 1_000
            yield self._book(at_ms, deed)
        # A sponsor whose promise is not kept that day.
        promise = note_promise("sponsors", 150 * self._unit, giver="invented-2", may_name=True)
        yield self._cue(at_ms + 1_000, promise)
        for number in range(_GIFTS):
            yield self._book(
                start_ms + (end_ms - start_ms) * (number + 1) // (_GIFTS + 2), self._gift()
            )
        yield self._book(start_ms + (end_ms - start_ms) * 3 // 5, self._received("raffle", 231))
        at_ms = end_ms
        for deed in self._after():
            at_ms += 60_000
            yield self._book(at_ms, deed)

    def _entries(self) -> Iterator[AnyDeed]:
        sizes = {one.id: one.team_size for one in self._event.divisions}
        for team in self._state.teams.values():
            size = sizes.get(team.division, 0)
            yield self._received(
                f"entries_{team.division}"[:40],
                size * _FEE,
                place="card" if self._rng.random() < 0.4 else "bank",
                team=team.id,
                benefit=size * _BENEFIT * self._unit,
                benefit_what="lunch and water",
            )

    def _before(self) -> Iterator[AnyDeed]:
        yield self._shifted(100, source="lent", target_place="box")
        yield self._shifted(60, source="lent", target_place="till")
        yield self._received("sponsors", 500, place="bank", giver="invented-1", may_name=True)
        yield Received(day=self._today, line="sponsors", goods="forty loaves", giver="invented-1")
        yield self._received("donations", 260, place="bank", giver="invented-3", may_name=True)
        yield self._spent("hire", _hire(self._event), place="bank")
        yield self._spent("insurance", 180, place="bank")
        yield self._spent("prizes", 45, place="box")
        if self._counters:
            yield self._spent("food", 212, paid_by=self._counters[0])

    def _gift(self) -> AnyDeed:
        amount = self._rng.choice((5, 10, 10, 20, 20, 50))
        return self._received("donations", amount, place=self._rng.choice(("box", "card", "card")))

    def _after(self) -> Iterator[AnyDeed]:
        """Count, pay out, give floats back, and bring the cash to the bank."""
        if self._counters[1:]:
            yield self._count("till", 318 * self._unit, "stalls")
            yield self._count("box", -1 * self._unit, "difference")
        yield self._shifted(60, source_place="till", target="lent")
        yield self._shifted(100, source_place="box", target="lent")
        for place in ("till", "box"):
            if self._held[place] > 0:
                yield self._moved(self._held[place], place, 0)
        if self._held["card"] > 0:
            yield self._moved(self._held["card"], "card", self._held["card"] * 15 // 1000)
        if self._counters:
            yield self._shifted(212, source_place="bank", target="owed", person=self._counters[0])

    @property
    def _today(self) -> date:
        return self._event.day

    def _received(self, line: str, amount: int, *, place: str = "box", **more: Any) -> Received:  # noqa: ANN401
        self._add(place, amount * self._unit)
        return Received(day=self._today, line=line, place=place, amount=amount * self._unit, **more)

    def _spent(self, line: str, amount: int, **more: str) -> Spent:
        self._add(more.get("place", ""), -amount * self._unit)
        return Spent(day=self._today, line=line, amount=amount * self._unit, **more)

    def _shifted(self, amount: int, **ends: Any) -> Shifted:  # noqa: ANN401
        self._add(ends.get("source_place", ""), -amount * self._unit)
        self._add(ends.get("target_place", ""), amount * self._unit)
        return Shifted(day=self._today, amount=amount * self._unit, **ends)

    def _moved(self, amount: int, place: str, fee: int) -> Shifted:
        self._add(place, -amount)
        return Shifted(
            day=self._today,
            amount=amount,
            source_place=place,
            target_place="bank",
            fee=fee,
            fee_line="fees" if fee else "",
        )

    def _count(self, place: str, news: int, line: str) -> Counted:
        self._add(place, news)
        return Counted(
            day=self._today,
            place=place,
            pieces=tuple(self._pieces(self._held[place])),
            counted_by=self._counters,
            line=line,
            booked=news,
        )

    def _pieces(self, amount: int) -> Iterator[Pieces]:
        for value in (20 * self._unit, 5 * self._unit, self._unit, 1):
            count, amount = divmod(amount, value)
            if count:
                yield Pieces(value=value, count=count)

    def _add(self, place: str, amount: int) -> None:
        if place in self._held:
            self._held[place] += amount

    def _book(self, at_ms: int, deed: AnyDeed) -> MoneyCue:
        return self._cue(at_ms, book_money(deed))

    def _cue(self, at_ms: int, request: Request) -> MoneyCue:
        return MoneyCue(at_ms=at_ms, request=request)
