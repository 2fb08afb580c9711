"""Folding of self-checks."""

from callroom.journal.entries import bodies
from callroom.journal.entries.envelope import Entry
from callroom.journal.fold.builder import Builder
from callroom.model import Training


def training_taken(build: Builder, entry: Entry, body: bodies.TrainingTaken) -> None:
    """Keep a device's last self-check; the device is the one that sent it."""
    before = build.trainings.get(entry.device)
    taken = Training(
        seq=entry.seq,
        at_ms=entry.at_ms,
        device=entry.device,
        movements=body.movements,
        right=body.right,
        asked=body.asked,
        times=before.times + 1 if before is not None else 1,
    )
    build.trainings.put(entry.device, taken)
    build.touch(f"training:{entry.device}")
