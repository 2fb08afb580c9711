"""Rulings as everyone reads them, and who has yet to read them before a heat they concern."""

import msgspec

from callroom.model import Event, Heat, Ruling, State, Workout
from callroom.views.timetable import (
    CREW,
    Audience,
    HeatSlot,
    WorkoutTitle,
    heat_slot,
    workout_title,
)


class RulingText(msgspec.Struct, frozen=True, kw_only=True):
    """A ruling as shown.

    `workout` is None and `movement` (an id) empty where it is about all of them; with
    `withdrawn` it no longer holds, for the reason `withdrawn_for`.
    """

    number: int
    at_ms: int
    workout: WorkoutTitle | None
    movement: str
    question: str
    answer: str
    withdrawn: bool
    withdrawn_for: str


class RulingHeard(msgspec.Struct, frozen=True, kw_only=True):
    """Which judges' devices have seen a ruling as it stands, and which have yet to.

    `before` is the next heat that it concerns, which is when all must have; None: no heat
    that it concerns is still to come.
    """

    text: RulingText
    seen: tuple[str, ...]
    unseen: tuple[str, ...]
    before: HeatSlot | None


def rulings(state: State, audience: Audience = CREW) -> tuple[RulingText, ...]:
    """Return the rulings that `audience` may see, by number; withdrawn ones are among them.

    What is about a workout that is not released, or about a movement that only such workouts
    have, is left out.
    """
    event = state.event
    if event is None:
        return ()
    return tuple(
        _text(event, ruling, audience)
        for ruling in state.rulings.values()
        if _may_see(event, ruling, audience)
    )


def rulings_about(state: State, workout: Workout) -> tuple[RulingText, ...]:
    """Return the rulings in force about a workout or its movements, not those about all."""
    if state.event is None:
        return ()
    return tuple(
        _text(state.event, ruling, CREW)
        for ruling in state.rulings.values()
        if ruling.in_force and (ruling.workout or ruling.movement) and concerns(ruling, workout)
    )


def rulings_heard(state: State) -> tuple[RulingHeard, ...]:
    """Return every ruling with the judges' devices that have seen it, the newest first.

    A ruling that nobody saw before it was withdrawn has nobody to tell.
    """
    event = state.event
    if event is None:
        return ()
    judges = sorted(
        device.id
        for device in state.devices.values()
        if device.role == "judge" and device.revoked_seq is None
    )
    found = []
    for ruling in reversed(tuple(state.rulings.values())):
        unseen = tuple(
            device for device in judges if ruling.news_for(_seen_seq(state, device, ruling))
        )
        before = _next_concerned(state, event, ruling)
        found.append(
            RulingHeard(
                text=_text(event, ruling, CREW),
                seen=tuple(
                    device
                    for device in judges
                    if _seen_seq(state, device, ruling) == ruling.news_seq
                ),
                unseen=unseen,
                before=heat_slot(state, before) if before is not None else None,
            )
        )
    return tuple(found)


def unseen_rulings(state: State, device: str) -> tuple[Ruling, ...]:
    """Return what a device has yet to acknowledge, by number."""
    return tuple(
        ruling
        for ruling in state.rulings.values()
        if ruling.news_for(_seen_seq(state, device, ruling))
    )


def concerns(ruling: Ruling, workout: Workout) -> bool:
    """Whether a ruling is about a workout: by its name, its movements, or about all."""
    if ruling.workout and ruling.workout != workout.id:
        return False
    return not ruling.movement or ruling.movement in _movements(workout)


def _movements(workout: Workout) -> frozenset[str]:
    return frozenset(
        task.movement for part in workout.parts for block in part.blocks for task in block.tasks
    )


def _seen_seq(state: State, device: str, ruling: Ruling) -> int:
    return state.acknowledged.get(device, {}).get(str(ruling.number), 0)


def _may_see(event: Event, ruling: Ruling, audience: Audience) -> bool:
    if not ruling.workout and not ruling.movement:
        return True
    about = [workout for workout in event.workouts if concerns(ruling, workout)]
    return any(audience.may_see(workout) for workout in about)


def _text(event: Event, ruling: Ruling, audience: Audience) -> RulingText:
    about = next((one for one in event.workouts if one.id == ruling.workout), None)
    return RulingText(
        number=ruling.number,
        at_ms=ruling.at_ms,
        workout=workout_title(event, about, audience) if about is not None else None,
        movement=ruling.movement,
        question=ruling.question,
        answer=ruling.answer,
        withdrawn=not ruling.in_force,
        withdrawn_for=ruling.withdrawn_for,
    )


def _next_concerned(state: State, event: Event, ruling: Ruling) -> Heat | None:
    heats = state.plan.heats if state.plan is not None else ()
    return next(
        (
            heat
            for heat in sorted(heats, key=lambda heat: (heat.start_s, heat.id))
            if state.heat_run(heat.id).stage in {"waiting", "called"}
            and concerns(ruling, event.workout(heat.workout))
        ),
        None,
    )
