"""Reading one change by hand from the form of the plan's picture."""

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import get_args

from callroom.actions.touches import (
    DropPause,
    Impossible,
    Move,
    PlaceTeam,
    Reach,
    SetLock,
    SetPause,
    SwapHeats,
    Touch,
)
from callroom.model import Event, Heat, Pause, Plan, wall_time
from callroom.web.errors import Unreadable
from callroom.web.forms.posted import Posted

_TIME = re.compile(r"([01]?\d|2[0-3])[:.]([0-5]\d)(?:[:.][0-5]\d)?")
_BY = re.compile(r"-?\d{1,6}")
_REACHES: frozenset[str] = frozenset(get_args(Reach))


def read_touch(form: Posted, event: Event, plan: Plan) -> Touch:
    """Return the change that a posted form asks for; the button says which, and the rest of it.

    Raises
    ------
    Unreadable
        If the button is none of the picture's, or a time is no time.
    Impossible
        If it names a heat or a pause that is not there.
    """
    deed, _, rest = form.text("do").partition(" ")
    read = _DEEDS.get(deed)
    if read is None:
        raise Unreadable("web.unknown_button", given=form.text("do")[:80])
    return read(form, event, plan, rest)


def seconds_of_day(event: Event, offset_s: int) -> int:
    """Return what the clock on the venue's wall shows [s] so long after the day's start."""
    wall = wall_time(event.instant(offset_s), event.zone)
    return wall.hour * 3600 + wall.minute * 60 + wall.second


def _near(event: Event, offset_s: int, typed: str) -> int:
    """Return the time typed on the day of another time [s from the day's start]."""
    found = _TIME.fullmatch(typed)
    if found is None:
        raise Unreadable("touch.bad_time", given=typed[:40])
    wanted_s = int(found[1]) * 3600 + int(found[2]) * 60
    return offset_s + wanted_s - seconds_of_day(event, offset_s)


def _heat(form: Posted, plan: Plan) -> Heat:
    wanted = form.text("heat")
    for heat in plan.heats:
        if heat.id == wanted:
            return heat
    raise Impossible("touch.no_heat", given=wanted[:80])


def _reach(form: Posted) -> Reach:
    given = form.text("reach")
    return given if given in _REACHES else "heat"  # type: ignore[return-value]


def _by(text: str) -> int:
    if not _BY.fullmatch(text):
        raise Unreadable("web.unknown_button", given=text[:80])
    return int(text)


def _moved(form: Posted, _event: Event, plan: Plan, rest: str) -> Touch:
    """``move -300``; a script sends the floor with it, and by how much in a field."""
    by_s = _by(rest or form.text("by") or "0")
    floor = "" if rest else form.text("floor")
    return Move(heat=_heat(form, plan).id, by_s=by_s, floor=floor, reach=_reach(form))


def _moved_to(form: Posted, event: Event, plan: Plan, _rest: str) -> Touch:
    heat = _heat(form, plan)
    by_s = _near(event, heat.start_s, form.text("at")) - heat.start_s
    return Move(heat=heat.id, by_s=by_s, reach=_reach(form))


def _to_floor(form: Posted, _event: Event, plan: Plan, rest: str) -> Touch:
    return Move(heat=_heat(form, plan).id, floor=rest, reach=_reach(form))


def _swapped(form: Posted, _event: Event, plan: Plan, _rest: str) -> Touch:
    return SwapHeats(heat=_heat(form, plan).id, other=form.text("other"))


def _placed(form: Posted, _event: Event, _plan: Plan, _rest: str) -> Touch:
    lane, _, heat = form.text("where").partition(" ")
    if not lane.isdigit():
        raise Unreadable("web.unknown_button", given=form.text("where")[:80])
    return PlaceTeam(team=form.text("team"), heat=heat, lane=int(lane))


def _locked(form: Posted, _event: Event, plan: Plan, rest: str) -> Touch:
    return SetLock(heat=_heat(form, plan).id, on=True, team=rest)


def _unlocked(form: Posted, _event: Event, plan: Plan, rest: str) -> Touch:
    return SetLock(heat=_heat(form, plan).id, on=False, team=rest)


def _pinned(form: Posted, event: Event, plan: Plan, rest: str) -> Touch:
    """``pin ID`` changes what is pinned; ``pin`` alone pins something more."""
    known = next((one for one in plan.pauses if one.id == rest), None)
    if known is None:
        day = form.whole("day") or 0
        days = event.wishes.days
        near_s = days[day].opens_s if day < len(days) else 0
    else:
        near_s = known.start_s
    floor = form.text("on")
    return SetPause(
        pause=Pause(
            id=known.id if known is not None else _new_id(plan),
            name=form.text("name")[:80],
            start_s=_near(event, near_s, form.text("at")),
            length_s=(form.whole("minutes") or 0) * 60,
            floors=known.floors if known is not None and floor == "as it is"
            else (floor,) if floor else (),
        )
    )  # fmt: skip


def _pin_moved(form: Posted, _event: Event, plan: Plan, rest: str) -> Touch:
    """``shift ID``: earlier or later by what is in the field, as the picture drags it."""
    for pause in plan.pauses:
        if pause.id == rest:
            return SetPause(
                pause=Pause(
                    id=pause.id,
                    name=pause.name,
                    start_s=pause.start_s + _by(form.text("by") or "0"),
                    length_s=pause.length_s,
                    floors=pause.floors,
                )
            )
    raise Impossible("touch.no_pause", given=rest[:80])


def _unpinned(_form: Posted, _event: Event, _plan: Plan, rest: str) -> Touch:
    return DropPause(pause=rest)


def _new_id(plan: Plan) -> str:
    taken = {one.id for one in plan.pauses}
    number = 1
    while f"pinned-{number}" in taken:
        number += 1
    return f"pinned-{number}"


_DEEDS: Mapping[str, Callable[[Posted, Event, Plan, str], Touch]] = MappingProxyType(
    {
        "move": _moved,
        "at": _moved_to,
        "floor": _to_floor,
        "swap": _swapped,
        "place": _placed,
        "lock": _locked,
        "unlock": _unlocked,
        "pin": _pinned,
        "shift": _pin_moved,
        "unpin": _unpinned,
    }
)
