"""Rulings: questions about a standard that were answered, with a number, for everyone."""

import msgspec


class Ruling(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A numbered answer to a question about a standard.

    Attributes
    ----------
    number
        Counts the rulings of the event from 1; a number is never given twice.
    seq, at_ms
        The entry that made it, and when the server received that [ms, UTC].
    workout, movement
        What it is about, by their ids; both empty: about every workout.
    withdrawn_seq, withdrawn_for
        The entry that took it back, and why; None: it is in force.
    """

    number: int
    seq: int
    at_ms: int
    question: str
    answer: str
    workout: str = ""
    movement: str = ""
    withdrawn_seq: int | None = None
    withdrawn_for: str = ""

    @property
    def in_force(self) -> bool:
        """Whether it holds."""
        return self.withdrawn_seq is None

    @property
    def news_seq(self) -> int:
        """The entry about it that judges must have seen: its making, or its withdrawal."""
        return self.seq if self.withdrawn_seq is None else self.withdrawn_seq

    def news_for(self, seen_seq: int) -> bool:
        """Whether a judge who saw it last at `seen_seq` (0: never) has something to learn.

        Who never saw a ruling that was taken back has nothing to forget.
        """
        return seen_seq < self.news_seq and (self.in_force or seen_seq > 0)
