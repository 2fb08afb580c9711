"""Folding of the paces that forecasts are made with."""

import msgspec

from callroom.journal.entries import pace_bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model.pace import PaceInUse, pace_key


def pace_taken(build: Builder, entry: Entry, body: pace_bodies.PaceTaken) -> None:
    """Use a pace in place of the model's own, or of the one used so far."""
    key = pace_key(body.workout, body.part, body.division)
    taken = PaceInUse(**msgspec.structs.asdict(body), seq=entry.seq, at_ms=entry.at_ms)
    build.paces.put(key, taken)
    build.touch("paces")


def pace_dropped(build: Builder, _entry: Entry, body: pace_bodies.PaceDropped) -> None:
    """Go back to the model's own pace."""
    build.paces.drop(pace_key(body.workout, body.part, body.division))
    build.touch("paces")
