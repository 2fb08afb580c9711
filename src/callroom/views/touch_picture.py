"""A draft of the plan as a picture that can be changed by hand: blocks, and the one chosen."""

from collections.abc import Collection, Iterable, Iterator, Sequence

import msgspec

from callroom.model import Event, Finding, Floor, Heat, Pause, Plan, State
from callroom.views.day_wording import day_name
from callroom.views.masthead import published
from callroom.views.timetable import (
    CREW,
    HeatSlot,
    LanePlace,
    PauseSlot,
    heat_slot,
    pause_slots,
)


class TouchBlock(msgspec.Struct, frozen=True, kw_only=True):
    """A heat in the picture.

    `lanes` are those open on its floor. `locked`: its time and floor; `changed`: it is not as
    the draft was found; `troubles`: how many wishes the check finds broken at it.
    """

    slot: HeatSlot
    lanes: int
    locked: bool
    changed: bool
    troubles: int


class TouchFloor(msgspec.Struct, frozen=True, kw_only=True):
    """One floor of one day: its heats in the order of time, and what is pinned on it."""

    id: str
    name: str
    lanes: int
    blocks: tuple[TouchBlock, ...]
    pauses: tuple[PauseSlot, ...]


class TouchDay(msgspec.Struct, frozen=True, kw_only=True):
    """One day; its name is empty where it is the only one. Times in seconds from the start."""

    name: str
    first_s: int
    last_s: int
    floors: tuple[TouchFloor, ...]


class LaneChoice(msgspec.Struct, frozen=True, kw_only=True):
    """A lane of a heat that a team can be put into; `team` is who is there, or empty."""

    heat: HeatSlot
    lane: int
    team: str


class ChosenHeat(msgspec.Struct, frozen=True, kw_only=True):
    """The heat that is chosen, with what can be done with it.

    `places` are its lanes in order, each with whether the place is locked. `others` are the
    heats it can change places with, `choices` the lanes of its workout.
    """

    block: TouchBlock
    floor: str
    places: tuple[tuple[LanePlace, bool], ...]
    findings: tuple[Finding, ...]
    others: tuple[HeatSlot, ...]
    choices: tuple[LaneChoice, ...]


class TouchPicture(msgspec.Struct, frozen=True, kw_only=True):
    """The event day by day, and the heat that is chosen, if one is."""

    days: tuple[TouchDay, ...]
    chosen: ChosenHeat | None


class Held(msgspec.Struct, frozen=True, kw_only=True):
    """What is locked and what is changed: heats by id, places as (workout, team)."""

    heats: Collection[str]
    places: Collection[tuple[str, str]]
    changed: Collection[str]


def touch_picture(
    state: State, plan: Plan, findings: Sequence[Finding], held: Held, chosen: str = ""
) -> TouchPicture:
    """Return the picture of a plan of the event in `state`; `chosen` is the id of a heat."""
    drawn = msgspec.structs.replace(state, plan=plan, heats={})
    event, _ = published(drawn)
    blocks = [_block(drawn, event, heat, findings, held) for heat in plan.heats]
    blocks.sort(key=lambda one: (one.slot.start_s, one.slot.id))
    found = next((one for one in blocks if one.slot.id == chosen), None)
    return TouchPicture(
        days=tuple(_days(event, plan, blocks)),
        chosen=_chosen(event, found, blocks, findings, held) if found is not None else None,
    )


def _block(
    state: State, event: Event, heat: Heat, findings: Sequence[Finding], held: Held
) -> TouchBlock:
    floor = next((one for one in event.floors if one.id == heat.floor), None)
    return TouchBlock(
        slot=heat_slot(state, heat, CREW),
        lanes=len(floor.open_lanes) if floor is not None else 0,
        locked=heat.id in held.heats,
        changed=heat.id in held.changed,
        troubles=sum(_about(one, heat.id) for one in findings),
    )


def _about(finding: Finding, heat: str) -> bool:
    named = finding.facts.get("heat") == heat or finding.subject == f"heat.{heat}"
    return named and finding.severity != "note"


def _days(event: Event, plan: Plan, blocks: Sequence[TouchBlock]) -> Iterator[TouchDay]:
    days = event.wishes.days
    names = [day.name for day in days] if len(days) > 1 else [""]

    def on(at_s: int) -> str:
        return day_name(days, at_s) or names[0]

    for name in names:
        mine = [one for one in blocks if on(one.slot.start_s) == name]
        pinned = [one for one in plan.pauses if on(one.start_s) == name]
        spans = [(one.slot.start_s, one.slot.end_s) for one in mine]
        spans += [(one.start_s, one.start_s + one.length_s) for one in pinned]
        yield TouchDay(
            name=name,
            first_s=min((start_s for start_s, _ in spans), default=0),
            last_s=max((end_s for _, end_s in spans), default=0),
            floors=tuple(_floor(floor, mine, pinned) for floor in event.floors),
        )


def _floor(floor: Floor, blocks: Iterable[TouchBlock], pauses: Iterable[Pause]) -> TouchFloor:
    here = (one for one in pauses if not one.floors or floor.id in one.floors)
    return TouchFloor(
        id=floor.id,
        name=floor.name,
        lanes=len(floor.open_lanes),
        blocks=tuple(one for one in blocks if one.slot.floor == floor.id),
        pauses=pause_slots(here),
    )


def _chosen(
    event: Event,
    block: TouchBlock,
    blocks: Sequence[TouchBlock],
    findings: Sequence[Finding],
    held: Held,
) -> ChosenHeat:
    slot = block.slot
    places = sorted(slot.places, key=lambda one: one.lane)
    return ChosenHeat(
        block=block,
        floor=next((one.name for one in event.floors if one.id == slot.floor), slot.floor),
        places=tuple((one, (slot.workout.id, one.team) in held.places) for one in places),
        findings=tuple(one for one in findings if _about(one, slot.id)),
        others=tuple(one.slot for one in blocks if one.slot.id != slot.id and not one.locked),
        choices=tuple(
            choice
            for one in blocks
            if one.slot.workout.id == slot.workout.id
            for choice in _lanes(event, one.slot)
        ),
    )


def _lanes(event: Event, slot: HeatSlot) -> Iterator[LaneChoice]:
    floor = next((one for one in event.floors if one.id == slot.floor), None)
    there = {place.lane: place.name for place in slot.places}
    for lane in sorted({*there, *(floor.open_lanes if floor is not None else ())}):
        yield LaneChoice(heat=slot, lane=lane, team=there.get(lane, ""))
