"""The form of one thing of the side programme."""

from datetime import timedelta

from callroom.model import BadInput, Event, Finding, State, milliseconds
from callroom.model.clock import BadTime, local_instant, parse_clock
from callroom.model.side_programme import SIDE_KINDS, SideItem, SideKind, Span
from callroom.web.forms.posted import Posted

SPANS = 3
_LONGEST_NAME = 80
_LONGEST_ID = 40
_DAY_S = 86_400
_MOST_DAYS = 7


def read_side(form: Posted, state: State, event: Event) -> SideItem:
    """Return a thing as typed; a new one gets the next free id.

    Raises
    ------
    BadInput
        With every time that cannot be read or is over before it begins, each under the name
        of its field; and if there is no name or no time.
    """
    faults: list[Finding] = []
    spans = [span for row in range(SPANS) if (span := _span(form, event, row, faults)) is not None]
    name = " ".join(form.text("name").split())[:_LONGEST_NAME]
    if not name:
        faults.append(_fault("side.no_name", "name"))
    if not spans and not faults:
        faults.append(_fault("side.no_time", "span-0-from", name=name))
    if faults:
        raise BadInput(tuple(faults))
    kind: SideKind = next((one for one in SIDE_KINDS if one == form.text("kind")), "other")
    return SideItem(
        id=form.text("id")[:_LONGEST_ID] or _fresh(state),
        kind=kind,
        name=name,
        spans=tuple(sorted(spans, key=lambda one: one.start_s)),
        spot=form.text("spot")[:_LONGEST_ID],
        place=" ".join(form.text("place").split())[:_LONGEST_NAME],
        person=form.text("person")[:_LONGEST_NAME],
        floors=tuple(one.id for one in event.floors if form.ticked(f"floor-{one.id}")),
        power=form.ticked("power"),
        water=form.ticked("water"),
        public=form.ticked("public"),
    )


def days_of(event: Event) -> int:
    """Return on how many calendar days the event is."""
    last_s = max((day.closes_s for day in event.wishes.days), default=0)
    return min((event.start_s + max(last_s - 1, 0)) // _DAY_S + 1, _MOST_DAYS)


def _span(form: Posted, event: Event, row: int, faults: list[Finding]) -> Span | None:
    typed = form.text(f"span-{row}-from"), form.text(f"span-{row}-until")
    if not any(typed):
        return None
    day = event.day + timedelta(days=min(form.whole(f"span-{row}-day") or 0, _MOST_DAYS))
    try:
        start_s, end_s = (
            (milliseconds(local_instant(day, parse_clock(text), event.zone)) - _zero(event)) // 1000
            for text in typed
        )
    except BadTime as fault:
        found = fault.finding()
        faults.append(_fault(found.rule, f"span-{row}-from", **dict(found.facts)))
        return None
    if end_s <= start_s:
        faults.append(_fault("side.times", f"span-{row}-from", given=f"{typed[0]} – {typed[1]}"))
        return None
    return Span(start_s=start_s, length_s=end_s - start_s)


def _zero(event: Event) -> int:
    return milliseconds(event.starts_at)


def _fault(rule: str, subject: str, **facts: object) -> Finding:
    said = {name: value for name, value in facts.items() if isinstance(value, str | int)}
    return Finding(rule=rule, severity="error", subject=subject, facts=said)


def _fresh(state: State) -> str:
    # A number that was used before is not given again while its pauses are in the event.
    pauses = state.event.wishes.pauses if state.event is not None else ()
    number = 1 + len(state.side)
    while f"item-{number}" in state.side or any(
        pause.id.startswith(f"side-item-{number}-") for pause in pauses
    ):
        number += 1
    return f"item-{number}"
