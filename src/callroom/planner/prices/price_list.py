"""The price list of a day: what each wish costs or saves, in minutes of the finish."""

from collections.abc import Callable, Iterable, Iterator

import msgspec
from msgspec.structs import replace

from callroom.model.errors import CallroomError
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.team import Team
from callroom.planner.prices.rules import RULES
from callroom.planner.problem import Problem
from callroom.planner.questions import questions, worst
from callroom.planner.timetable import Limits, Timetable
from callroom.planner.what_if import Knob, knobs, more_judges, said
from callroom.planner.what_if.knobs import MINUTE, hold, wish

LeastFinish = Callable[[Problem, Limits], Timetable]
WHAT_IF = Limits(work=1)
_BY_S = 10 * MINUTE


class Price(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One what-if and its price.

    Attributes
    ----------
    by_s
        Finish with the change less the finish without it [s]: negative saves time; None if
        the day cannot be done so, or nothing was found.
    proven
        Whether both finishes are the earliest there are (for plans that keep the wishes).
    change, outcome
        The change and what it comes to, in words.
    """

    kind: str
    subject: str
    level: int
    by_s: int | None
    proven: bool
    change: Finding
    outcome: Finding


class PriceList(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The prices of a day whose earliest finish is `finish_s` [s from the day's start].

    Of an event of several days, the finish is that of the last.
    """

    finish_s: int | None
    proven: bool
    prices: tuple[Price, ...]


def _tell_nobody(_price: Price) -> None:
    """Take no notice of a price before all are there."""


def price_list(
    event: Event,
    teams: Iterable[Team],
    least_finish: LeastFinish,
    on_price: Callable[[Price], None] = _tell_nobody,
    limits: Limits = WHAT_IF,
) -> PriceList:
    """Return what one change at a time does to the finish of a day.

    Parameters
    ----------
    event, teams
        The day; the hour it should be over by is not looked at.
    least_finish
        ``callroom.planner.solve.least_finish``, handed in so that only the process that
        searches loads it.
    on_price
        Told of each price as soon as it is known.
    limits
        For each single what-if.
    """
    entered = tuple(teams)
    open_day = replace(event, wishes=replace(event.wishes, finish_by_s=None))
    base = _solve(open_day, entered, least_finish, limits)
    prices: list[Price] = []
    for knob in what_ifs(open_day):
        for level in knob.levels:
            changed = knob.apply(open_day, level)
            answer = _solve(changed, entered, least_finish, limits)
            prices.append(_price(knob, level, changed, base, answer))
            on_price(prices[-1])
    return PriceList(finish_s=base.finish_s, proven=_proven(base), prices=tuple(prices))


def what_ifs(event: Event) -> Iterator[Knob]:
    """Yield the changes a director asks the price of: gentle ones, in both directions."""
    for knob in knobs(event):
        if knob.kind in {"rest_less", "pause_shorter"}:
            yield knob._replace(levels=(min(_BY_S, knob.levels[-1]),))
        elif knob.kind == "start_earlier":
            continue
        else:
            yield knob._replace(levels=knob.levels if knob.choice else knob.levels[:1])
    wishes = event.wishes
    yield Knob("rest_more", (_BY_S,), wish(lambda w, s: replace(w, rest_s=w.rest_s + s)))
    if wishes.judges_at_once is not None and wishes.judges_at_once > 1:
        yield Knob("judges_fewer", (1,), wish(lambda w, n: more_judges(w, -n)))
    for name, strict in (("mixed_heats", False), ("constant_rhythm", True)):
        if getattr(wishes, name) != strict:
            yield Knob(name, (1,), _setting(name, value=strict), choice=name)
    if wishes.workout_order == "free":
        yield Knob(
            "workout_order", (1,), _setting("workout_order", "listed"), choice="workout_order"
        )
    for stricter in ("neighbours", "reseeded")[
        ("kept", "neighbours", "reseeded").index(wishes.order) :
    ]:
        yield Knob("order", (1,), _setting("order", stricter), choice="order")
    if wishes.slot_s < 5 * MINUTE:
        yield Knob("starts", (5 * MINUTE,), wish(lambda w, s: replace(w, slot_s=s)))
    for floor in event.floors:
        if len(floor.open_lanes) > 1:
            yield Knob("lanes_held", (1,), hold(floor.id), floor.id)


def _setting(name: str, value: object) -> Callable[[Event, int], Event]:
    return wish(lambda wishes, _level: replace(wishes, **{name: value}))


def _solve(
    event: Event, teams: tuple[Team, ...], least_finish: LeastFinish, limits: Limits
) -> Timetable:
    try:
        problems = questions(event, teams).problems
    except CallroomError:
        return Timetable(status="infeasible")
    answers = [least_finish(problem, limits) for problem in problems]
    status = worst(answers)
    return answers[-1] if status == "solved" else Timetable(status=status)


def _price(knob: Knob, level: int, changed: Event, base: Timetable, answer: Timetable) -> Price:
    known = base.finish_s is not None and answer.finish_s is not None
    return Price(
        kind=knob.kind,
        subject=knob.subject,
        level=level,
        by_s=(answer.finish_s or 0) - (base.finish_s or 0) if known else None,
        proven=_proven(base) and _proven(answer),
        change=said(knob, level, changed),
        outcome=_outcome(base, answer),
    )


def _outcome(base: Timetable, answer: Timetable) -> Finding:
    finish_s = answer.finish_s
    if finish_s is None or base.finish_s is None:
        no = answer.status == "infeasible"
        return RULES.found("price.impossible" if no else "price.undecided", "day")
    if not _proven(answer):
        bound_s = answer.aims[-1].bound_s if answer.aims else answer.certificate_s
        return RULES.found("price.about", "day", finish_at_s=finish_s, bound_at_s=bound_s)
    by_s = finish_s - base.finish_s
    if by_s < 0:
        return RULES.found("price.earlier", "day", by_s=-by_s, finish_at_s=finish_s)
    if by_s > 0:
        return RULES.found("price.later", "day", by_s=by_s, finish_at_s=finish_s)
    return RULES.found("price.same", "day", finish_at_s=finish_s)


def _proven(answer: Timetable) -> bool:
    finish = answer.aim("finish")
    return finish is not None and finish.proven
