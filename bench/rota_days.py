"""Invented days that need judges, for the rota's benchmark: heats in lanes, and a crew.

Every floor runs a heat every 14 minutes from nine to five with an hour's lunch; caps of
8 to 12 minutes. One volunteer in ten comes at noon or leaves then, one in five competes
(in five heats of 35 minutes each, with warm-up and rest), two in five are experienced.
"""

import random

from callroom.model import Shift
from callroom.planner.rota import Hand, RotaProblem

MINUTE = 60
LENGTH_S = 12 * MINUTE
PITCH_S = 14 * MINUTE
NOON_S = 180 * MINUTE
AFTERNOON_S = 240 * MINUTE
CLOSES_S = 480 * MINUTE


def judging_day(*, people: int, floors: int, lanes: int, seed: int) -> RotaProblem:
    """Return a day on which `floors` x `lanes` judges are at work at once."""
    draw = random.Random(seed)
    shifts = tuple(
        Shift(
            id=f"{floor}-{start_s}/{lane}",
            post="judge",
            start_s=start_s,
            end_s=start_s + LENGTH_S,
            floor=str(floor),
            heat=f"{floor}-{start_s}",
            lane=lane,
        )
        for floor in range(floors)
        for start_s in _starts(offset_s=floor * 3 * MINUTE)
        for lane in range(1, lanes + 1)
    )
    hands = tuple(_hand(f"P{number:03}", draw, shifts) for number in range(people))
    in_order = sorted(shifts, key=lambda shift: (shift.start_s, shift.heat, shift.lane))
    return RotaProblem(plan_revision=1, shifts=tuple(in_order), hands=hands)


def _starts(offset_s: int) -> list[int]:
    morning = range(offset_s, NOON_S - LENGTH_S, PITCH_S)
    afternoon = range(AFTERNOON_S + offset_s, CLOSES_S - LENGTH_S, PITCH_S)
    return [*morning, *afternoon]


def _hand(name: str, draw: random.Random, shifts: tuple[Shift, ...]) -> Hand:
    away: list[tuple[int, int]] = []
    kind = draw.random()
    if kind < 0.1:
        away.append((0, NOON_S) if draw.random() < 0.5 else (NOON_S, CLOSES_S))
    elif kind < 0.3:
        starts = draw.sample(range(0, CLOSES_S, 60 * MINUTE), 5)
        away.extend((start_s, start_s + 35 * MINUTE) for start_s in starts)
    barred = frozenset(shift.id for shift in shifts if draw.random() < 0.005)
    return Hand(
        id=name,
        posts=frozenset({"judge"}),
        away=tuple(away),
        experienced=draw.random() < 0.4,
        barred=barred,
    )
