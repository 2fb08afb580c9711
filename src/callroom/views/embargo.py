"""Results kept from the public until the director lets them out."""

from msgspec.structs import replace

from callroom.model import State


def kept_back(state: State) -> frozenset[str]:
    """Return the workouts whose results the public does not see: by the rules, or as decided."""
    if state.event is None:
        return frozenset()
    by_rule = state.event.rules.embargo
    return frozenset(
        workout.id
        for workout in state.event.workouts
        if state.embargo.get(workout.id, workout.id in by_rule)
    )


def as_public(state: State) -> State:
    """Return the State as if nothing had been reported of the workouts that are kept back.

    What is not there cannot be shown by mistake: no place, no sum and no reason can tell of it.
    """
    hidden = kept_back(state)
    if not hidden:
        return state
    return replace(
        state,
        sheets={key: sheet for key, sheet in state.sheets.items() if sheet.workout not in hidden},
        reruns={
            key: given for key, given in state.reruns.items() if key.partition("/")[0] not in hidden
        },
        unplaced={
            key: kept for key, kept in state.unplaced.items() if kept.report.workout not in hidden
        },
        subjects={
            subject: seq
            for subject, seq in state.subjects.items()
            if _workout_of(subject) not in hidden
        },
    )


def _workout_of(subject: str) -> str:
    """Return the workout whose results a subject is about; empty if it is about none."""
    kind, _, name = subject.partition(":")
    return name.partition("/")[0] if kind in {"sheet", "reruns"} else ""
