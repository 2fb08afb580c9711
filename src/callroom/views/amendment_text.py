"""One amendment in a form that pages and sheets share."""

import msgspec

from callroom.model import Amendment, Decider, Remedy, State
from callroom.views.timetable import CREW, Audience, WorkoutTitle, workout_title


class AmendmentText(msgspec.Struct, frozen=True, kw_only=True):
    """An amendment as shown.

    `from_heat` is the number of the first heat it holds for (None: none is still to come),
    `had_run` the numbers of those that had run, of which `remedy` says what becomes.
    """

    number: int
    at_ms: int
    workout: WorkoutTitle
    what: str
    why: str
    decided_by: Decider
    from_heat: int | None
    remedy: Remedy
    had_run: tuple[int, ...]
    common_point: str


def amendments(state: State, audience: Audience = CREW) -> tuple[AmendmentText, ...]:
    """Return the amendments of workouts that `audience` may see, by number."""
    return tuple(
        amendment_text(state, amendment, audience)
        for amendment in state.amendments.values()
        if state.event is not None and audience.may_see(state.event.workout(amendment.workout))
    )


def amendments_standing(state: State, audience: Audience = CREW) -> tuple[AmendmentText, ...]:
    """Return those by which a workout now stands and which changed what scores mean."""
    return tuple(
        text
        for text in amendments(state, audience)
        if text.remedy != "none" and state.amendment_number(text.workout.id) == text.number
    )


def amendment_text(state: State, amendment: Amendment, audience: Audience) -> AmendmentText:
    """Return one amendment as shown to `audience`; the book has its event and workout."""
    event = state.event
    if event is None:
        raise ValueError("an amendment without an event")
    heats = {heat.id: heat.number for heat in (state.plan.heats if state.plan is not None else ())}
    return AmendmentText(
        number=amendment.number,
        at_ms=amendment.at_ms,
        workout=workout_title(event, event.workout(amendment.workout), audience),
        what=amendment.what,
        why=amendment.why,
        decided_by=amendment.decided_by,
        from_heat=heats.get(amendment.from_heat),
        remedy=amendment.remedy,
        had_run=tuple(heats[heat] for heat in amendment.had_run if heat in heats),
        common_point=amendment.common_point,
    )
