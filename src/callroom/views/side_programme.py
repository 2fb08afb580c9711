"""The side programme as people read it: what is on when and where, and what does not go."""

from collections.abc import Iterator, Mapping
from itertools import combinations

import msgspec

from callroom.model import Event, Finding, State
from callroom.model.finding import Severity
from callroom.model.person import Person
from callroom.model.side_programme import SideItem, SideKind, Span
from callroom.views.checklist import permit_rule
from callroom.views.rota_day import name_of

_MINUTE_S = 60
_LISTENED_TO = frozenset({"speech", "awards", "raffle"})


class SideTime(msgspec.Struct, frozen=True, kw_only=True):
    """One time of one thing [s from the day's start], with its place in words."""

    id: str
    kind: SideKind
    name: str
    place: str
    start_s: int
    end_s: int


class SideLine(msgspec.Struct, frozen=True, kw_only=True):
    """One thing as the director sees it.

    `person` is who is in charge, by name where it may be shown; `ask` the rule that says whom
    to ask for a permit (empty: nobody in particular); `pinned`: its floors are kept free by
    pauses at just these times.
    """

    item: SideItem
    place: str
    person: str
    ask: Finding | None
    pinned: bool


def side_times(state: State, *, public: bool = True) -> tuple[SideTime, ...]:
    """Return everything that is on, in order of time; `public`: only what everybody may see."""
    found = [
        SideTime(
            id=item.id,
            kind=item.kind,
            name=item.name,
            place=place_of(state, item),
            start_s=span.start_s,
            end_s=span.end_s,
        )
        for item in state.side.values()
        if item.public or not public
        for span in item.spans
    ]
    return tuple(sorted(found, key=lambda one: (one.start_s, one.end_s, one.id)))


def side_lines(state: State, event: Event, people: Mapping[str, Person]) -> tuple[SideLine, ...]:
    """Return every thing in order of its first time."""
    ordered = sorted(state.side.values(), key=lambda one: (one.spans[0].start_s, one.name))
    return tuple(
        SideLine(
            item=item,
            place=place_of(state, item),
            person=name_of(item.person, people) if item.person else "",
            ask=_ask(item),
            pinned=is_pinned(event, item),
        )
        for item in ordered
    )


def place_of(state: State, item: SideItem) -> str:
    """Return where a thing is, in words: its spot's name, or what was typed."""
    spot = state.ground.spot(item.spot) if item.spot else None
    return spot.name if spot is not None else item.place


def is_pinned(event: Event, item: SideItem) -> bool:
    """Whether pauses of the event keep its floors free at just its times."""
    wanted = {(span.start_s, span.length_s, item.floors) for span in item.spans}
    mine = {
        (pause.start_s, pause.length_s, pause.floors)
        for pause in event.wishes.pauses
        if pause.id.startswith(f"side-{item.id}-")
    }
    return bool(item.floors) and wanted == mine


def _ask(item: SideItem) -> Finding | None:
    rule = permit_rule(item.kind)
    if not rule:
        return None
    facts = {"names": item.name}
    return Finding(rule=rule, severity="note", subject=f"side:{item.id}", facts=facts)


def side_findings(state: State, event: Event) -> tuple[Finding, ...]:
    """Return what does not go: floors taken, people elsewhere, awards before the end."""
    items = tuple(state.side.values())
    each: dict[tuple[str, str], Finding] = {}
    for item in items:
        # The first clash of a sort is enough to know: a stall all day would list one for each heat.
        for finding in _of_item(state, event, item):
            each.setdefault((item.id, finding.rule), finding)
    found = [*each.values(), *_between(items)]
    return tuple(sorted(found, key=lambda one: one.severity != "error"))


def _found(severity: Severity, rule: str, item: SideItem, **facts: str | int) -> Finding:
    return Finding(
        rule=f"side.{rule}",
        severity=severity,
        subject=f"side:{item.id}",
        facts={"name": item.name, **facts},
    )


def _of_item(state: State, event: Event, item: SideItem) -> Iterator[Finding]:
    if not item.person:
        yield _found("note", "nobody", item)
    if not place_of(state, item):
        yield _found("note", "no_place", item)
    if item.floors and not is_pinned(event, item):
        yield _found("warning", "not_pinned", item)
    yield from _against_heats(state, event, item)
    if item.person:
        yield from _in_charge(state, item)


def _against_heats(state: State, event: Event, item: SideItem) -> Iterator[Finding]:
    plan = state.plan
    if plan is None:
        return
    for span in item.spans:
        on = [heat for heat in plan.heats if _meet(span, heat.start_s, heat.end_s)]
        taken = dict.fromkeys(heat.floor for heat in on if heat.floor in item.floors)
        if taken:
            names = ", ".join(event.floor(floor).name for floor in taken)
            yield _found("error", "floor_taken", item, floors=names, from_at_s=span.start_s)
        elif on and item.kind in _LISTENED_TO:
            yield _found("warning", "over_heats", item, heats=len(on), from_at_s=span.start_s)
        if item.kind == "awards" and span.start_s < plan.finish_s:
            yield _found(
                "warning",
                "awards_early",
                item,
                from_at_s=span.start_s,
                finish_at_s=-(-plan.finish_s // _MINUTE_S) * _MINUTE_S,
            )


def _in_charge(state: State, item: SideItem) -> Iterator[Finding]:
    """Say where somebody in charge is on duty or competes at the time, or is not there."""
    member = state.crew.get(item.person)
    if member is None:
        yield _found("warning", "person_left", item)
        return
    for span in item.spans:
        for shift in state.rota.shifts_of(item.person) if state.rota is not None else ():
            if _meet(span, shift.start_s, shift.end_s):
                yield _found(
                    "warning",
                    "person_on_duty",
                    item,
                    post=shift.post,
                    person=item.person,
                    from_at_s=shift.start_s,
                )
                break
        for heat in state.plan.day_of(member.team) if state.plan and member.team else ():
            if _meet(span, heat.start_s, heat.end_s):
                yield _found(
                    "warning",
                    "person_competes",
                    item,
                    person=item.person,
                    from_at_s=heat.start_s,
                )
        early = member.free_from_s is not None and span.start_s < member.free_from_s
        late = member.free_until_s is not None and span.end_s > member.free_until_s
        if early or late:
            yield _found("warning", "person_away", item, person=item.person, from_at_s=span.start_s)


def _between(items: tuple[SideItem, ...]) -> Iterator[Finding]:
    for one, other in combinations(items, 2):
        clash = next(
            (
                span
                for span in one.spans
                for against in other.spans
                if _meet(span, against.start_s, against.end_s)
            ),
            None,
        )
        if clash is None:
            continue
        if one.spot and one.spot == other.spot:
            yield _found("warning", "same_spot", one, other=other.name, from_at_s=clash.start_s)
        if one.person and one.person == other.person:
            yield _found(
                "warning",
                "same_person",
                one,
                other=other.name,
                person=one.person,
                from_at_s=clash.start_s,
            )


def _meet(span: Span, start_s: int, end_s: int) -> bool:
    return span.start_s < end_s and start_s < span.end_s
