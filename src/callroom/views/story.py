"""The story of a division: every team's overall place after each workout that counts."""

import msgspec
from msgspec.structs import replace

from callroom.model import State
from callroom.scoring import division_scores, standings_of
from callroom.views.embargo import as_public
from callroom.views.timetable import Audience, WorkoutTitle, workout_title


class Step(msgspec.Struct, frozen=True, kw_only=True):
    """After one more scored part: its name, and each team's overall place (None: none)."""

    workout: WorkoutTitle
    part_name: str
    places: dict[str, int | None]


class Story(msgspec.Struct, frozen=True, kw_only=True):
    """A division from its first to its last counted part; `teams` are in their final order."""

    division: str
    teams: tuple[str, ...]
    steps: tuple[Step, ...]

    def course(self, team: str) -> tuple[int | None, ...]:
        """Return a team's places, step by step."""
        return tuple(step.places.get(team) for step in self.steps)


def story(state: State, division_id: str, audience: Audience) -> Story:
    """Return the story of a division as far as it is complete.

    Raises
    ------
    NotFound
        Without an event or such a division.
    """
    scored = division_scores(as_public(state) if audience.public else state, division_id)
    event = state.event
    whole = standings_of(scored)
    steps = []
    for count, part in enumerate(whole.parts, start=1):
        if (part.workout, part.part) not in whole.counted or event is None:
            continue
        so_far = standings_of(replace(scored, parts=scored.parts[:count]))
        workout = event.workout(part.workout)
        one = workout.part(part.part)
        steps.append(
            Step(
                workout=workout_title(event, workout, audience),
                part_name=(one.name or one.id) if len(workout.parts) > 1 else "",
                places={row.team: row.place for row in so_far.rows},
            )
        )
    return Story(
        division=division_id, teams=tuple(row.team for row in whole.rows), steps=tuple(steps)
    )
