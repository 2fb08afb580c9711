"""Published shop instances written as competitions.

A job is a team in a division of its own, a machine a floor, an operation a workout: no
rest, no changeover, no break. In a job shop each team has its own order of workouts; in
an open shop it may take them in any order.
"""

import tomllib
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

from callroom.planner import Either, Link, Problem, Slot

DATA = Path(__file__).parent.parent / "published" / "data" / "scheduling.toml"


def instances(kind: str) -> dict[str, dict[str, Any]]:
    """Return the stored ``job_shop`` or ``open_shop`` instances by name."""
    rows = tomllib.loads(DATA.read_text(encoding="utf-8"))[kind]
    return {row["name"]: row for row in rows}


def job_shop(machines_by_job: list[list[int]], durations_by_job: list[list[int]]) -> Problem:
    """Return a job shop as a competition."""
    jobs = [
        [_slot(job, machine, length_s) for machine, length_s in zip(row, lengths, strict=True)]
        for job, (row, lengths) in enumerate(zip(machines_by_job, durations_by_job, strict=True))
    ]
    return Problem(
        floors=_floors(len(machines_by_job[0])),
        slots=tuple(slot for job in jobs for slot in job),
        links=tuple(
            Link(before=before.id, after=after.id)
            for job in jobs
            for before, after in pairwise(job)
        ),
    )


def open_shop(durations_job_by_machine: list[list[int]]) -> Problem:
    """Return an open shop as a competition."""
    jobs = [
        [_slot(job, machine, length_s) for machine, length_s in enumerate(row)]
        for job, row in enumerate(durations_job_by_machine)
    ]
    return Problem(
        floors=_floors(len(durations_job_by_machine[0])),
        slots=tuple(slot for job in jobs for slot in job),
        eithers=tuple(
            Either(
                one=Link(before=one.id, after=other.id), other=Link(before=other.id, after=one.id)
            )
            for job in jobs
            for one, other in combinations(job, 2)
        ),
    )


def _slot(job: int, machine: int, length_s: int) -> Slot:
    return Slot(
        id=f"{job}-{machine}",
        workout=f"{job}-{machine}",
        block=f"division {job}",
        rank=1,
        floors=(f"floor {machine}",),
        length_s=length_s,
    )


def _floors(machines: int) -> tuple[str, ...]:
    return tuple(f"floor {machine}" for machine in range(machines))
