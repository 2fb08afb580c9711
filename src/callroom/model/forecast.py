"""Forecasts: how long the work takes, as answers to a director's questions.

All numbers are whole: seconds, counts, grams, and shares of teams in per cent.
"""

from collections.abc import Mapping

import msgspec

from callroom.model.finding import Finding
from callroom.model.workout import PartKind, Unit


class Quantiles(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Five points of a distribution; None where so many teams never get there.

    `p10` is reached by one team in ten, `p50` by half, `p90` by nine in ten. For times fewer
    is better, so the fastest tenth is at or below `p10`.
    """

    p10: int | None
    p25: int | None
    p50: int | None
    p75: int | None
    p90: int | None


class Histogram(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A distribution to draw: `counts` of teams in bins of `width` from `start`.

    `beyond` teams are past the last bin, or never get there.
    """

    start: int
    width: int
    counts: tuple[int, ...]
    beyond: int


class StepForecast(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One step of the running list of work.

    Attributes
    ----------
    block, round_number, task, movement, strand
        Which step of ``callroom.model.steps`` it is.
    split_s
        When teams are through with it, the first time round [s].
    lost_s
        Seconds the middle team loses in it to rests, handovers and slowing down.
    stopped_percent
        Teams that are in it at the cap.
    unable_percent
        Teams that cannot get through it, as somebody who is needed cannot do it at all.
    """

    block: str
    round_number: int
    task: str
    movement: str
    strand: int
    split_s: Quantiles
    lost_s: int
    stopped_percent: int
    unable_percent: int


class PartForecast(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One scored part.

    Attributes
    ----------
    pace_permille
        The pace it was made with: 1000 as the model says, 1100 a tenth slower.
    finish_s
        Times to finish, beyond the cap too [s]; nothing but None for other results.
    under_cap_percent
        Teams that finish by the cap; 0 for a part that has no finish.
    counts
        Work done at the cap [counts], finished teams with all of it; in metres for a
        distance, in grams for a load. More is better, and `p10` is what only the last tenth
        stays below.
    stall
        The place in `steps` of the step in which teams lose most; None without steps.
    mean_log, sd_log
        Mean and standard deviation of the logarithm of the time to finish [ln s], or of the
        counts, in thousandths, for calibration; 0 where it cannot be told.
    picture
        The distribution of the times, or of the counts.
    """

    part: str
    kind: PartKind
    cap_s: int
    pace_permille: int
    finish_s: Quantiles
    under_cap_percent: int
    counts: Quantiles
    steps: tuple[StepForecast, ...]
    stall: int | None
    mean_log: int
    sd_log: int
    picture: Histogram


class WorkoutForecast(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A workout as the teams of one division do it.

    Attributes
    ----------
    teams
        How many teams were simulated.
    clock_s
        When the last team of a heat is through, or the cap [s]. A heat has as many teams as
        the floor has open lanes.
    floor_s, planned_floor_s
        How long such a heat holds the floor from walk-on to kit strip, and the time that is
        planned for it: all the way to the cap [s].
    worked_s
        Time under work of the middle athlete of each place in the line-up [s].
    """

    workout: str
    division: str
    teams: int
    parts: tuple[PartForecast, ...]
    clock_s: Quantiles
    floor_s: Quantiles
    planned_floor_s: int
    worked_s: tuple[int, ...]


class Forecast(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Every workout of an event for every division, workout by workout."""

    workouts: tuple[WorkoutForecast, ...]

    def of(self, workout_id: str, division_id: str) -> WorkoutForecast:
        """Return the forecast of a workout for a division; KeyError if there is none."""
        for one in self.workouts:
            if (one.workout, one.division) == (workout_id, division_id):
                return one
        raise KeyError((workout_id, division_id))


class LoadAdvice(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A load for one task and category [g, for one implement]; `published_g` is today's."""

    task: str
    category: str
    published_g: int
    advised_g: int


class Advice(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What would let `target_percent` of the teams finish a part by its cap.

    Attributes
    ----------
    cap_s
        A cap with the loads as they are, in half minutes; None if no cap would do.
    loads
        Loads with the cap as it is; empty if there are none, or no load would do.
    under_cap_percent
        Teams that finish with those loads and the cap as it is.
    """

    workout: str
    part: str
    division: str
    target_percent: int
    cap_s: int | None
    loads: tuple[LoadAdvice, ...]
    under_cap_percent: int


class Pace(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The pace that a division's results on a part show.

    `permille` multiplies every time: 1000 as the model says, 1100 a tenth slower. The interval from
    `low_permille` to `high_permille` holds the true pace in about nine cases of ten.
    `finished` of the `teams` with a result finished; the others were stopped at the cap.
    """

    workout: str
    part: str
    division: str
    permille: int
    low_permille: int
    high_permille: int
    teams: int
    finished: int


class CapacityUse(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How far a day tests one capacity: the workouts that do, and its share of all work [%]."""

    capacity: str
    workouts: tuple[str, ...]
    percent: int


class LoadShare(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The load of one category in a task, in per cent of the heaviest category's."""

    workout: str
    part: str
    task: str
    category: str
    percent: int


class MovementVolume(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How much of a movement one athlete does all day if it is shared evenly, in `unit`."""

    movement: str
    unit: Unit
    each: int


class Programme(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the workouts of a day test together, for one division.

    Attributes
    ----------
    capacities
        Those that are tested, most first.
    gaps
        Those of the usual ones that no workout tests.
    length_s
        How long the middle team is at work, by workout [s].
    load_shares, volumes
        Loads between categories, and the work of one athlete by movement.
    worked_s
        Time under work all day of the middle athlete of each place [s].
    findings
        Overlaps, gaps and cautions.
    """

    division: str
    capacities: tuple[CapacityUse, ...]
    gaps: tuple[str, ...]
    length_s: Mapping[str, int]
    load_shares: tuple[LoadShare, ...]
    volumes: tuple[MovementVolume, ...]
    worked_s: tuple[int, ...]
    findings: tuple[Finding, ...]
