"""Workouts: scored parts made of blocks of tasks."""

from typing import Literal

import msgspec

from callroom.model.mass import PublishedHeight, PublishedLoad

WhoKind = Literal["anyone", "everyone", "category", "places", "pair"]
Sharing = Literal["split", "each", "together", "carry"]
Unit = Literal["reps", "metres", "calories", "seconds", "lift"]
SwitchKind = Literal["freely", "every", "each_round", "fixed_order"]
PartKind = Literal["time", "work", "load", "distance"]
CapRule = Literal["work_done", "second_per_missing"]
BuzzerLift = Literal["off_floor", "completed"]


class Who(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Who may do a task: anyone, everyone, a category, named places of the line-up, a pair."""

    kind: WhoKind = "anyone"
    category: str = ""
    places: tuple[str, ...] = ()


class Switch(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How athletes hand over: freely, every `every` counts, each round, in fixed order."""

    kind: SwitchKind = "freely"
    every: int = 0
    hand_tag: bool = False


class VariationRule(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A variation that a task allows or bars, for one division or (empty) for all."""

    variation: str
    allowed: bool
    division: str = ""


class Task(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A movement, an amount, a load, who does it and how the team shares it.

    Attributes
    ----------
    amounts
        The amount in `unit`, one for every round of the block or one for all rounds;
        empty for a lift (the load is the result).
    mark
        How many units make one count: 5 with metres means every complete 5 m counts one.
    working
        How many athletes work at a time.
    least_each
        The least share of every athlete who may do it, in counts.
    strand
        Tasks of one block with different strands run in parallel.
    while_holding
        A movement that a partner must hold; counts made while it is broken do not count.
    variation
        The variation that every division does; the same as allowing it for all.
    variation_rules
        Variations allowed or barred here, for all or division by division; the one for a
        division holds before the one for all, and both before the division's own rules.
    tighten, tighten_no_rep
        What this event asks beyond the movement's own standard, in words, and the short
        label by which a judge does not count what misses it (empty: none of its own).
    """

    id: str
    movement: str
    unit: Unit = "reps"
    amounts: tuple[int, ...] = ()
    mark: int = 1
    who: Who = Who()
    sharing: Sharing = "split"
    working: int = 1
    switch: Switch = Switch()
    least_each: int = 0
    strand: int = 0
    while_holding: str = ""
    loads: tuple[PublishedLoad, ...] = ()
    heights: tuple[PublishedHeight, ...] = ()
    variation: str = ""
    variation_rules: tuple[VariationRule, ...] = ()
    tighten: str = ""
    tighten_no_rep: str = ""
    tries: int = 0


class Block(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Tasks done in order, `rounds` times; `open_ended`: again and again until time is up.

    `every_s` starts each round on the clock (0: as soon as the last one is done).
    """

    id: str
    tasks: tuple[Task, ...]
    name: str = ""
    rounds: int = 1
    open_ended: bool = False
    every_s: int = 0


class TieBreak(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A split that is compared only between equal results; the earlier one is better.

    `after` names the block or task whose end is stamped; for work in a time it may be
    ``"round"``: the time the last complete round ended.
    """

    after: str
    splits_finishers: bool = False


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One scored part, with its own clock and result.

    Attributes
    ----------
    kind
        ``time`` to finish under a cap, ``work`` done in a time, ``load`` lifted,
        ``distance`` covered.
    cap_s, starts_s
        Length of its clock [s], and when that clock starts on the workout's clock [s].
    resolution_ms
        Times are cut off to this before ranking [ms].
    share_percent
        100: worth full points; 50: half.
    all_lifts_needed
        For ``load``: a task without a good lift makes the whole result nought.
    """

    id: str
    kind: PartKind
    cap_s: int
    blocks: tuple[Block, ...]
    name: str = ""
    starts_s: int = 0
    resolution_ms: int = 1000
    tiebreak: TieBreak | None = None
    cap_rule: CapRule = "work_done"
    share_percent: int = 100
    buzzer_lift: BuzzerLift = "completed"
    all_lifts_needed: bool = False


class Workout(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What every team of the event does once, on one floor.

    Attributes
    ----------
    walk_on_s, countdown_s, sign_s, strip_s
        What a heat needs besides its clock [s]: walking on, the countdown, signing the
        cards, clearing the kit.
    report_s
        How long before the start the teams report to the call board [s].
    release_s
        Nobody outside the crew sees it before this [s from the day's start]; None: at once.
    """

    id: str
    name: str
    floor: str
    parts: tuple[Part, ...]
    text: str = ""
    judges_per_lane: int = 1
    walk_on_s: int = 60
    countdown_s: int = 10
    sign_s: int = 60
    strip_s: int = 60
    report_s: int = 900
    release_s: int | None = None

    @property
    def clock_s(self) -> int:
        """Length of the workout's own clock [s]."""
        return max(part.starts_s + part.cap_s for part in self.parts)

    @property
    def floor_s(self) -> int:
        """How long one heat holds the floor, from walk-on to kit strip [s]."""
        return self.walk_on_s + self.countdown_s + self.clock_s + self.sign_s + self.strip_s

    def part(self, part_id: str) -> Part:
        """Return the part called `part_id`; KeyError if there is none."""
        for part in self.parts:
            if part.id == part_id:
                return part
        raise KeyError(part_id)
