"""Folding of self-checks."""

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import Training


def training_taken(build: Builder, entry: Entry, body: bodies.TrainingTaken) -> None:
    """Keep the last self-check of a device, which is the one that sent it, and of a volunteer."""
    for shelf, key in ((build.trainings, entry.device), (build.trained, body.person)):
        if not key:
            continue
        before = shelf.get(key)
        taken = Training(
            seq=entry.seq,
            at_ms=entry.at_ms,
            device=entry.device,
            movements=body.movements,
            right=body.right,
            asked=body.asked,
            times=before.times + 1 if before is not None else 1,
            person=body.person,
        )
        shelf.put(key, taken)
    build.touch(f"training:{entry.device}")
