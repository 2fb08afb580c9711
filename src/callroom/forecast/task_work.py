"""A task as the teams of one division do it: who takes turns, how long, and at what cost."""

from collections.abc import Mapping
from typing import Literal

import msgspec
import numpy as np

from callroom.forecast.arrays import Flags, Floats, Ints
from callroom.forecast.athletes import Athletes
from callroom.forecast.demand import Demand, demand, hold_s, is_engine
from callroom.forecast.endurance import time_over_s
from callroom.forecast.loads import load_g
from callroom.forecast.parameters import athlete_model
from callroom.model.division import Division
from callroom.model.movement import Movement
from callroom.model.permitted import switches
from callroom.model.steps import loads_for
from callroom.model.workout import Task

NO_END = 1e9
"""More of anything than fits in a day."""
LONGEST_STEADY_S = 1800.0
"""Critical power holds up to about half an hour (Skiba et al. 2012); beyond it, Riegel."""

Order = Literal["in_turn", "fixed", "each_round"]
Group = Literal["one", "in_step", "carry"]


class TaskWork(msgspec.Struct, frozen=True, eq=False, kw_only=True):
    """A task as the teams of one division do it.

    Attributes
    ----------
    movement
        Its id: the muscles it tires are those of every task with the same movement.
    demand, unladen
        What it asks of every athlete; and, where one object is carried by a travelling
        team, of those who do not hold it at the moment.
    willing
        Who takes a turn, shape ``(athletes, teams)``.
    held, holding
        The movement a partner holds meanwhile, and the share of its muscles' strength that a
        second of it takes, shape ``(athletes, teams)``; None without a hold.
    group, workers, slots
        One at a time, several in step, or a team travelling; how many are in step; and how
        many work side by side on the same amount.
    order
        Who is next: the next of the line-up, going on from the step before or (fixed) from the
        top, or one athlete for a whole round.
    each
        Every athlete has an amount of their own.
    fade, slows
        How power and pace fall as the reserve is spent.
    paced
        The pace is chosen to last, so nobody stops for a rest.
    most_worn
        How worn muscles may be at the start of a set, ``(athletes, teams)``.
    turn_s, handover_s
        Length of a turn and the seconds lost between two [s].
    quantum, every, least_each
        The smallest piece that is handed over, the most in a turn, and the least share of
        every athlete; all in the task's unit.
    crew, all_willing
        The places that may do it, and whether all of those take turns in every team.
    """

    movement: str
    demand: Demand
    unladen: Demand | None
    willing: Flags
    held: str
    holding: Floats | None
    group: Group
    workers: int
    slots: int
    order: Order
    each: bool
    fade: float
    slows: float
    paced: bool
    most_worn: Floats
    turn_s: float
    handover_s: float
    quantum: float
    every: float
    least_each: float
    crew: tuple[int, ...]
    all_willing: bool

    def rotation(self, first: int, lap: int) -> tuple[int, ...]:
        """Return the places that take turns, in order, in round `lap` of the block.

        As a rule it goes on with the place `first` or the next after it; a fixed order starts
        at the top of the line-up, and a whole round may be one athlete's.
        """
        if self.order == "each_round":
            return (self.crew[lap % len(self.crew)],)
        if self.order == "fixed" or self.each:
            return self.crew
        start = next((at for at, place in enumerate(self.crew) if place >= first), 0)
        return self.crew[start:] + self.crew[:start]


def task_work(
    task: Task,
    division: Division,
    movements: Mapping[str, Movement],
    athletes: Athletes,
    *,
    crew: Flags,
    load_scale: float,
) -> TaskWork:
    """Return `task` as `athletes` do it.

    `crew` says who may, shape ``(athletes,)``; `load_scale` multiplies every load.
    """
    movement = movements.get(task.movement)
    fatigue = athlete_model().fatigue
    loads = loads_for(task, division)
    masses = [load_scale * load_g(loads, category) for category in athletes.categories]
    strain = movement.strain(switches(task, division)) if movement is not None else 1.0
    asked = demand(movement, task.unit, masses, athletes, strain=strain)
    asked = _steady(asked, task, movement)
    engine = is_engine(movement, task.unit)
    size = int(crew.sum())
    size = min(size, 2) if task.who.kind == "pair" else size
    working = min(task.working, size)
    if task.sharing == "together" and working == 1:
        working = size  # together means everyone who may, unless a number is given
    alone = size <= working or task.switch.kind == "each_round"
    # Where pace is chosen to last, power comes down to the critical one as the reserve goes.
    fade = float(asked.power.mean()) - 1 if engine else fatigue.fade
    carried = task.sharing == "carry"
    willing = _willing(task, asked, crew, working)
    places = tuple(int(place) for place in np.flatnonzero(crew))
    return TaskWork(
        movement=task.movement,
        demand=asked,
        unladen=demand(movement, task.unit, [None] * len(masses), athletes) if carried else None,
        willing=willing,
        held=task.while_holding,
        holding=_holding(task, movements, athletes),
        group="carry" if carried else "in_step" if task.sharing == "together" else "one",
        workers=working if task.sharing == "together" else 1,
        slots=working if task.sharing in {"split", "each"} else 1,
        order=_order(task),
        each=task.sharing == "each",
        fade=fade,
        slows=fade / 3 if _is_machine_pace(movement, task) else fade,
        paced=engine,
        most_worn=most_gone(asked.drain),
        turn_s=_turn_s(alone=alone or task.sharing == "each", engine=engine),
        handover_s=_handover_s(task, alone=alone, engine=engine),
        quantum=float(task.mark if not carried else 1),
        every=float(task.switch.every * task.mark) if task.switch.kind == "every" else NO_END,
        least_each=float(task.least_each * task.mark),
        crew=places,
        all_willing=bool(willing[list(places)].all()),
    )


def most_gone(cost: Floats) -> Floats:
    """Return what may be spent, or worn, at the start of a set of units that take `cost` each."""
    fatigue = athlete_model().fatigue
    gone = (1 - fatigue.kept) - np.maximum(cost, fatigue.least_set)
    return np.maximum(gone, 1 - fatigue.most_needed)


def _turn_s(*, alone: bool, engine: bool) -> float:
    teamwork = athlete_model().teamwork
    if alone:
        return teamwork.alone_turn_s
    return teamwork.engine_turn_s if engine else teamwork.turn_s


def _handover_s(task: Task, *, alone: bool, engine: bool) -> float:
    teamwork = athlete_model().teamwork
    if alone or task.sharing in {"together", "carry"}:
        return 0.0
    usual = teamwork.engine_handover_s if engine and task.unit != "metres" else teamwork.handover_s
    return usual + (teamwork.hand_tag_s if task.switch.hand_tag else 0.0)


def _order(task: Task) -> Order:
    kinds: dict[str, Order] = {"fixed_order": "fixed", "each_round": "each_round"}
    return kinds.get(task.switch.kind, "in_turn")


def _is_machine_pace(movement: Movement | None, task: Task) -> bool:
    """Return whether power goes with the cube of the pace, as on an air-braked machine."""
    return (
        movement is not None
        and task.unit == "metres"
        and any(rate.unit == "s_per_500m" for rate in movement.cadence)
    )


def _steady(asked: Demand, task: Task, movement: Movement | None) -> Demand:
    """Return the demand with the slower pace of a distance that takes over half an hour."""
    if not is_engine(movement, task.unit) or task.unit != "metres" or not task.amounts:
        return asked
    own_m = float(max(task.amounts))
    steady_s = own_m * np.median(asked.pace_s, axis=1)
    known_m = own_m * LONGEST_STEADY_S / steady_s
    slower = [
        max(time_over_s(own_m, known, LONGEST_STEADY_S) / steady, 1.0)
        for known, steady in zip(known_m, steady_s, strict=True)
    ]
    return msgspec.structs.replace(asked, pace_s=asked.pace_s * np.array(slower)[:, np.newaxis])


def _willing(task: Task, asked: Demand, crew: Flags, working: int) -> Flags:
    """Return who takes a turn, shape ``(athletes, teams)``.

    Where the rule leaves the choice to the team, who cannot do it leaves it to the others, if
    somebody can; a pair is the two fastest.
    """
    willing: Flags = np.broadcast_to(crew[:, np.newaxis], asked.able.shape)
    pace = np.where(willing, asked.pace_s, np.inf)
    if task.who.kind == "pair":
        fastest: Flags = _rank(pace) < 2
        return fastest
    if task.sharing == "together":
        best: Flags = willing & (_rank(pace) < working) | (willing & asked.able)
        return best if working < int(crew.sum()) else willing
    if (
        task.sharing != "split"
        or task.least_each
        or task.switch.kind in {"fixed_order", "each_round"}
    ):
        return willing
    able = willing & asked.able
    return np.where(able.any(axis=0), able, willing)


def _rank(pace: Floats) -> Ints:
    """Return 0 for the fastest of each team, 1 for the next, …; shape ``(athletes, teams)``."""
    ranks: Ints = np.argsort(np.argsort(pace, axis=0, kind="stable"), axis=0)
    return ranks


def _holding(task: Task, movements: Mapping[str, Movement], athletes: Athletes) -> Floats | None:
    if not task.while_holding or len(athletes.categories) < 2:
        return None
    return 1 / hold_s(movements.get(task.while_holding), athletes.strength)
