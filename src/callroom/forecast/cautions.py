"""Cautions about the work of a day: volume, heat, skill when tired, and caps.

They are planning values for a director to think about, without a published limit behind them;
the event's medical lead, local codes and insurers decide.
"""

from collections.abc import Iterator, Mapping, Sequence

from callroom.forecast.demand import needs_skill
from callroom.forecast.rules import RULES
from callroom.model.division import Division
from callroom.model.event import Event
from callroom.model.finding import Finding
from callroom.model.forecast import MovementVolume, PartForecast, WorkoutForecast
from callroom.model.movement import Capacity, Movement
from callroom.model.workout import Workout

# Common practice, no source: repetitions of one movement a day, for one athlete, from which a
# director should think twice; hanging, jumping and lowering slowly harm muscles most.
MOST_OF: tuple[tuple[Capacity, int], ...] = (("pull", 60), ("jump", 100), ("press", 100))
MOST_OTHERWISE = 150
LIGHT = ("double_under", "single_under")
TIRED_AFTER_S = 120
LONG_OUTDOORS_S = 480
FEW_PERCENT = 50
GENEROUS = 0.7
UNABLE_PERCENT = 5


def cautions(
    event: Event,
    division: Division,
    movements: Mapping[str, Movement],
    forecasts: Mapping[str, WorkoutForecast],
    *,
    lengths: Mapping[str, int],
    volumes: Sequence[MovementVolume],
) -> tuple[Finding, ...]:
    """Return what should make a director think twice about the day of `division`.

    Parameters
    ----------
    forecasts, lengths
        By workout; how long the middle team is at work [s].
    volumes
        What one athlete does of each movement all day.
    """
    found = [*_volume(division, movements, volumes)]
    for workout in event.workouts:
        found += _unknown(workout, movements)
        found += _outdoors(event, workout, division, lengths[workout.id])
        for part in forecasts[workout.id].parts:
            found += _unable(workout, division, movements, part)
            found += _skill_when_tired(workout, division, movements, part)
            found += _caps(workout, division, part)
    return tuple(found)


def _volume(
    division: Division, movements: Mapping[str, Movement], volumes: Sequence[MovementVolume]
) -> Iterator[Finding]:
    for volume in volumes:
        movement = movements.get(volume.movement)
        if volume.unit != "reps" or movement is None or volume.movement in LIGHT:
            continue
        tags = movement.capacities
        most = min((limit for tag, limit in MOST_OF if tag in tags), default=MOST_OTHERWISE)
        if volume.each > most:
            yield RULES.found(
                "forecast.movement_volume",
                f"division.{division.id}",
                division=division.id,
                movement=movement.many,
                each=volume.each,
                most=most,
            )


def _unknown(workout: Workout, movements: Mapping[str, Movement]) -> Iterator[Finding]:
    named = {
        task.movement for part in workout.parts for block in part.blocks for task in block.tasks
    }
    for name in sorted(named - movements.keys()):
        yield RULES.found(
            "forecast.movement_unknown",
            f"workouts.{workout.id}",
            workout=workout.id,
            movement=name,
        )


def _outdoors(
    event: Event, workout: Workout, division: Division, length_s: int
) -> Iterator[Finding]:
    floor = event.floor(workout.floor)
    if floor.outdoor and length_s >= LONG_OUTDOORS_S:
        yield RULES.found(
            "forecast.work_outdoors",
            f"workouts.{workout.id}",
            workout=workout.id,
            division=division.id,
            floor=floor.name,
            length_s=length_s,
        )


def _unable(
    workout: Workout, division: Division, movements: Mapping[str, Movement], part: PartForecast
) -> Iterator[Finding]:
    worst: dict[str, int] = {}
    for step in part.steps:
        worst[step.movement] = max(worst.get(step.movement, 0), step.unable_percent)
    for movement, percent in worst.items():
        if percent >= UNABLE_PERCENT:
            yield RULES.found(
                "forecast.unable",
                f"workouts.{workout.id}",
                workout=workout.id,
                division=division.id,
                movement=movements[movement].name if movement in movements else movement,
                percent=percent,
            )


def _skill_when_tired(
    workout: Workout, division: Division, movements: Mapping[str, Movement], part: PartForecast
) -> Iterator[Finding]:
    told = set()
    for before, step in zip(part.steps, part.steps[1:], strict=False):
        movement = movements.get(step.movement)
        after_s = before.split_s.p50
        if movement is None or after_s is None or after_s < TIRED_AFTER_S:
            continue
        if needs_skill(movement.id) or {"skill", "load"} <= set(movement.capacities):
            if step.movement not in told:
                yield RULES.found(
                    "forecast.skill_when_tired",
                    f"workouts.{workout.id}",
                    workout=workout.id,
                    division=division.id,
                    movement=movement.name,
                    after_s=after_s,
                )
            told.add(step.movement)


def _caps(workout: Workout, division: Division, part: PartForecast) -> Iterator[Finding]:
    if part.kind != "time":
        return
    slow_s = part.finish_s.p90
    if part.under_cap_percent < FEW_PERCENT:
        yield RULES.found(
            "forecast.few_finish",
            f"workouts.{workout.id}.parts.{part.part}",
            workout=workout.id,
            part=part.part,
            division=division.id,
            percent=part.under_cap_percent,
            cap_s=part.cap_s,
        )
    elif slow_s is not None and slow_s < GENEROUS * part.cap_s:
        yield RULES.found(
            "forecast.cap_generous",
            f"workouts.{workout.id}.parts.{part.part}",
            workout=workout.id,
            part=part.part,
            division=division.id,
            slow_s=slow_s,
            cap_s=part.cap_s,
        )
