"""The timetable as an answer: where each heat stands, and what is proven about it."""

from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Literal

import msgspec

from callroom.model.finding import Finding

AimName = Literal["finish", "longest_wait", "changeovers", "early"]
Status = Literal["solved", "infeasible", "undecided"]


class Limits(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How long the solver may think.

    With one worker and no `wall_s` the same problem, seed and `work` give the same answer
    on every machine. `work` counts the solver's own deterministic seconds; `wall_s` bounds
    real ones and makes the answer depend on the machine.
    """

    seed: int = 1
    workers: int = 1
    work: float = 30
    wall_s: float | None = None


class Placed(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A slot on its floor, from `start_s` [s]."""

    slot: str
    floor: str
    start_s: int


class Aim(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One aim, in the order they were pursued: what was reached and what is proven [s].

    `bound_s` holds for days of this `shape` in which every earlier aim keeps its value.
    """

    name: AimName
    shape: Literal["blocks", "heats"]
    value_s: int
    bound_s: int

    @property
    def proven(self) -> bool:
        """Whether nothing better exists."""
        return self.value_s <= self.bound_s


class Incumbent(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A complete timetable met on the way; it keeps every rule and may be stopped at."""

    aim: AimName
    value_s: int
    bound_s: int
    finish_s: int
    placed: tuple[Placed, ...]


class Timetable(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the solver answers.

    ``solved``: `placed` is a timetable. ``infeasible``: there is none, and `findings` say
    why as far as it is known. ``undecided``: the limit came first.

    `certificate_s` is the least finish of *any* timetable of these heats, in blocks or not,
    by counting what each floor must carry [s from the day's start].
    """

    status: Status
    placed: tuple[Placed, ...] = ()
    finish_s: int | None = None
    certificate_s: int = 0
    aims: tuple[Aim, ...] = ()
    findings: tuple[Finding, ...] = ()

    def starts(self) -> Mapping[str, int]:
        """Return the start of each slot [s]."""
        return MappingProxyType({place.slot: place.start_s for place in self.placed})

    def aim(self, name: AimName) -> Aim | None:
        """Return the last word on one aim, or None if it was not pursued."""
        found = [aim for aim in self.aims if aim.name == name]
        return found[-1] if found else None


OnIncumbent = Callable[[Incumbent], None]


def ignore(_incumbent: Incumbent) -> None:
    """Take no notice of what is met on the way."""
