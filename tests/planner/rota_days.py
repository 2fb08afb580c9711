"""Small planned days with a crew, for the tests of the rota."""

from collections.abc import Sequence

from callroom.model import (
    CrewMember,
    Event,
    Floor,
    Heat,
    LaneTeam,
    Pause,
    Plan,
    RotaRules,
    Team,
)
from tests.planner import days

MINUTE = 60
NO_POSTS = RotaRules(posts=())


def heat(
    name: str, *, start_min: int, teams: Sequence[str], floor: str = "main", length_min: int = 12
) -> Heat:
    workout, number = name.split("-")
    return Heat(
        id=name,
        workout=workout,
        floor=floor,
        number=int(number),
        start_s=start_min * MINUTE,
        end_s=(start_min + length_min) * MINUTE,
        lanes=tuple(LaneTeam(lane=lane, team=team) for lane, team in enumerate(teams, 1)),
    )


def plan(*heats: Heat, pauses: tuple[Pause, ...] = ()) -> Plan:
    finish_s = max(one.end_s for one in heats)
    return Plan(revision=1, inputs_digest="", heats=heats, pauses=pauses, finish_s=finish_s)


def event(judges: int = 1) -> Event:
    return days.event(
        floors=(Floor(id="main", name="Main", lanes=8), Floor(id="yard", name="Yard", lanes=8)),
        workouts=(days.workout("w1", judges=judges), days.workout("w2", floor="yard")),
    )


def teams(count: int, gyms: Sequence[str] = ("",)) -> tuple[Team, ...]:
    return tuple(
        Team(id=f"T{n}", name=f"T{n}", division="a", gym=gyms[n % len(gyms)]) for n in range(count)
    )


def judge(person: str, **facts: object) -> CrewMember:
    return CrewMember(person=person, posts=("judge",), **facts)  # type: ignore[arg-type]


def row_of_heats(count: int, lanes: int = 2, *, pitch_min: int = 14) -> Plan:
    """Heats of w1 one after the other, each with teams T0, T1, … in its lanes."""
    return plan(
        *(
            heat(
                f"w1-{n + 1}", start_min=n * pitch_min, teams=[f"T{lane}" for lane in range(lanes)]
            )
            for n in range(count)
        )
    )
