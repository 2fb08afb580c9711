"""What a task asks of every athlete: seconds, effort, and who can do it at all."""

import math
from collections.abc import Mapping, Sequence
from typing import TypeVar

import msgspec
import numpy as np

from callroom.forecast.arrays import Flags, Floats
from callroom.forecast.athletes import Athletes
from callroom.forecast.endurance import held_power_w
from callroom.forecast.pace import usual_pace
from callroom.forecast.parameters import FreshRepetitions, athlete_model, work_model
from callroom.forecast.strength import drained_per_rep
from callroom.model.movement import Movement
from callroom.model.workout import Unit

Figure = TypeVar("Figure", float, FreshRepetitions)

UNABLE_S = 1e9
"""The pace of somebody who cannot do it: longer than any cap."""

# Common practice, no source, as are the other figures here.
USUAL_SHARE = 0.45
"""The share of the maximum where a load is asked for and none is published."""
METRES_PER_REPETITION = 2.0
"""A load carried so far tires as much as one repetition with it."""
LEVELS_KNOWN = (-1.5, 2.0)
"""Rates are carried on beyond the library's ranges only so far."""
USUAL_HOLD_S = 60.0
LEVELS_FOR_STRAIN = 2.0
"""Levels of skill more that e times the strain takes of who cannot do it otherwise."""


class Demand(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """What one task asks of every athlete; all arrays of shape ``(athletes, teams)``.

    Attributes
    ----------
    pace_s
        Seconds for one unit, fresh; ``UNABLE_S`` for who cannot do it.
    drain
        Share of the reserve that one unit takes, by the muscles used.
    power
        Power at that pace as a multiple of the athlete's critical power.
    able
        Who can do it.
    load_share
        Load as a share of the maximum; nought without a load.
    """

    pace_s: Floats
    drain: Floats
    power: Floats
    able: Flags
    load_share: Floats


def is_engine(movement: Movement | None, unit: Unit) -> bool:
    """Return whether the pace of `movement` is chosen to last: a machine, a run."""
    if movement is None:
        return False
    tags = movement.capacities
    ground = unit == "metres" and tags[:1] == ("engine",) and "load" not in tags
    return movement.family == "engine" or ground


def needs_skill(movement_id: str) -> bool:
    """Return whether not everybody can do it at all."""
    return movement_id in work_model().able_from


def demand(
    movement: Movement | None,
    unit: Unit,
    loads_g: Sequence[float | None],
    athletes: Athletes,
    *,
    strain: float = 1.0,
) -> Demand:
    """Return what one unit of `movement` asks of `athletes`.

    Parameters
    ----------
    movement
        None if the library does not know it: a usual pace is taken then.
    loads_g
        The load of each place of the line-up [g]; 0 where none is published (a usual one is
        taken if the movement has one), None for who carries nothing.
    strain
        How hard one unit is where variations are allowed or barred, of a usual one [ratio].
    """
    rows = [
        _row(movement, unit, mass, athletes, place=place, strain=strain)
        for place, mass in enumerate(loads_g)
    ]
    pace, drain, power, able, share = (np.stack(values) for values in zip(*rows, strict=True))
    return Demand(
        pace_s=np.where(able > 0, pace, UNABLE_S),
        drain=drain,
        power=power,
        able=able > 0,
        load_share=share,
    )


def _row(
    movement: Movement | None,
    unit: Unit,
    mass_g: float | None,
    athletes: Athletes,
    *,
    place: int,
    strain: float,
) -> tuple[Floats, ...]:
    """Return pace, drain, power, able (1 or 0) and load share of one place, ``(teams,)`` each."""
    model = athlete_model()
    category = athletes.categories[place]
    engine = is_engine(movement, unit)
    level = (athletes.endurance if engine else athletes.skill)[place]
    usual_s, gain = usual_pace(movement, unit, category)
    pace = usual_s * np.exp(gain * np.clip(level, *LEVELS_KNOWN))
    body = model.body(category)
    share = _load_share(movement, mass_g, body.clean_kg, athletes.strength[place])
    if engine:
        # The rates of what is always carried are rates with a load.
        own_load = movement is not None and movement.load != "none"
        slows = 1 + (0.0 if own_load else model.fatigue.engine_load_slows) * share
        held = held_power_w(model.fatigue.engine_effort_s, body.critical_w, body.reserve_j)
        drain = np.zeros(athletes.teams)
        power = np.full(athletes.teams, held / body.critical_w)
        able = np.ones(athletes.teams)
    else:
        drain, able = _local_drain(movement, unit, share, athletes, place=place, strain=strain)
        faster = usual_s / pace
        fitter = np.exp(model.growth.endurance * athletes.endurance[place])
        power = _effort(movement, unit) * faster / fitter
        over = np.maximum(share - model.fatigue.heavy_from, 0) / (1 - model.fatigue.heavy_from)
        slows = 1 + model.fatigue.heavy_slows * over
    return pace * slows * athletes.form, drain, power, able, share


def _load_share(
    movement: Movement | None, mass_g: float | None, clean_kg: float, strength: Floats
) -> Floats:
    if mass_g is None:
        return np.zeros(strength.shape)
    if mass_g <= 0:
        asked = movement is not None and movement.load != "none"
        return np.full(strength.shape, USUAL_SHARE if asked else 0.0)
    return mass_g / 1000 / most_kg(movement, clean_kg, strength)


def most_kg(movement: Movement | None, clean_kg: float, strength: Floats) -> Floats:
    """Return the most that can be moved once [kg], of the shape of `strength` (levels)."""
    work = work_model()
    ratio = _looked_up(movement, work.most_of, work.most, work.most_order)
    grown: Floats = clean_kg * ratio * np.exp(athlete_model().growth.strength * strength)
    return grown


def _local_drain(
    movement: Movement | None,
    unit: Unit,
    share: Floats,
    athletes: Athletes,
    *,
    place: int,
    strain: float,
) -> tuple[Floats, Floats]:
    """Return the share of the reserve one unit takes, and who is able (1 or 0)."""
    growth = athlete_model().growth
    strength = athletes.strength[place]
    skilled = np.ones(athletes.teams)
    if movement is not None and movement.id in work_model().able_from:
        needed = work_model().able_from[movement.id] + LEVELS_FOR_STRAIN * math.log(strain)
        skilled = (athletes.skill[place] >= needed).astype(float)
    if unit == "seconds":
        return strain / hold_s(movement, strength), skilled
    if share.any():
        bearable = np.minimum(share, 0.98)
        able = skilled * (share < 1)
        per_unit = METRES_PER_REPETITION if unit == "metres" else 1.0
        return strain * drained_per_rep(bearable) / per_unit, able
    work = work_model()
    category = athletes.categories[place]
    fresh = _looked_up(movement, work.fresh_of, work.fresh, work.fresh_order).of(category)
    return strain / (fresh * np.exp(growth.repetitions * strength)), skilled


def hold_s(movement: Movement | None, strength: Floats) -> Floats:
    """Return how long a position can be held [s], of the shape of `strength` (levels)."""
    usual = USUAL_HOLD_S
    if movement is not None:
        spans = [
            math.sqrt(float(rate.low) * float(rate.high))
            for rate in movement.cadence
            if rate.unit == "s" and rate.level == "intermediate"
        ]
        usual = spans[0] if spans else USUAL_HOLD_S
    held: Floats = usual * np.exp(athlete_model().growth.hold * np.clip(strength, *LEVELS_KNOWN))
    return held


def _effort(movement: Movement | None, unit: Unit) -> float:
    work = work_model()
    if unit == "seconds":
        return work.effort["core"]
    return _looked_up(movement, work.effort_of, work.effort, work.effort_order)


def _looked_up(
    movement: Movement | None,
    own: Mapping[str, Figure],
    general: Mapping[str, Figure],
    order: tuple[str, ...],
) -> Figure:
    """Return the movement's own figure, or that of the first capacity it has in `order`."""
    if movement is None:
        return general["other"]
    if movement.id in own:
        return own[movement.id]
    tags = set(movement.capacities)
    return general[next((tag for tag in order if tag in tags), "other")]
