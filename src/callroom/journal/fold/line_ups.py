"""Folding of line-ups: who stands where, and who may not for now."""

from callroom.journal.entries import line_up_bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import LineUp


def line_up_set(build: Builder, entry: Entry, body: line_up_bodies.LineUpSet) -> None:
    """Keep a team's line-up in each of the workouts."""
    for workout in body.workouts:
        key = f"{workout}/{body.team}"
        line_up = LineUp(
            workout=workout,
            team=body.team,
            seq=entry.seq,
            at_ms=entry.at_ms,
            places=body.places,
            reason=body.reason,
            allowed=body.allowed,
        )
        build.line_ups.put(key, line_up)
        build.touch(f"line_up:{key}")
    build.touch(f"line_ups:{body.team}")


def athlete_stood_down(build: Builder, entry: Entry, body: line_up_bodies.AthleteStoodDown) -> None:
    """Keep an athlete off the floor."""
    build.stood_down.put(body.person, entry.seq)
    build.touch(f"line_ups:{body.team}")


def athlete_cleared(build: Builder, _entry: Entry, body: line_up_bodies.AthleteCleared) -> None:
    """Let an athlete take the floor again."""
    build.stood_down.drop(body.person)
    build.touch(f"line_ups:{body.team}")
