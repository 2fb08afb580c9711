"""A small invented day for tests: four teams, two workouts, one floor, and its State."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from callroom.actions.decide import decide
from callroom.actions.request import Request, kind_of
from callroom.journal.entries import Entry, bodies
from callroom.journal.fold import Batch
from callroom.model import (
    Actor,
    Athlete,
    Block,
    Category,
    CategoryCount,
    Division,
    Event,
    Floor,
    Heat,
    LaneTeam,
    Part,
    Plan,
    Result,
    ScoreReport,
    State,
    Task,
    Team,
    Wishes,
    Workout,
    milliseconds,
)

DIRECTOR = Actor(role="director", device="cli", name="director")
HEAD_JUDGE = Actor(role="head_judge", device="tablet", name="head judge")
JUDGE = Actor(role="judge", device="phone", name="judge")


def task(task_id: str, *, amount: int = 50) -> Task:
    return Task(id=task_id, movement="air_squat", amounts=(amount,))


def part(part_id: str = "a") -> Part:
    block = Block(id="b1", tasks=(task("t1"),))
    return Part(id=part_id, kind="time", cap_s=600, blocks=(block,))


EVENT = Event(
    id="trial",
    name="Trial day",
    day=date(2027, 5, 8),
    zone="Europe/Madrid",
    start_s=9 * 3600,
    venue="Hall",
    cause="Nobody yet",
    currency="EUR",
    categories=(Category(id="women", name="Women"), Category(id="men", name="Men")),
    divisions=(
        Division(
            id="pairs",
            name="Pairs",
            make_up=(
                CategoryCount(category="women", count=1),
                CategoryCount(category="men", count=1),
            ),
        ),
    ),
    floors=(Floor(id="main", name="Main floor", lanes=4),),
    workouts=(
        Workout(id="w1", name="First", floor="main", parts=(part(),)),
        Workout(id="w2", name="Second", floor="main", parts=(part("a"), part("b"))),
    ),
    wishes=Wishes(least_per_heat=2, rest_s=600),
    invented=True,
)


def team(number: int) -> Team:
    return Team(
        id=f"T{number}",
        name=f"Team {number}",
        division="pairs",
        athletes=(
            Athlete(place="A", category="women", person=f"p{number}a"),
            Athlete(place="B", category="men", person=f"p{number}b"),
        ),
    )


TEAMS = tuple(team(number) for number in range(1, 5))


def heat(heat_id: str, workout: str, number: int, start_s: int, teams: Sequence[str]) -> Heat:
    return Heat(
        id=heat_id,
        workout=workout,
        floor="main",
        number=number,
        start_s=start_s,
        end_s=start_s + 790,
        lanes=tuple(LaneTeam(lane=lane, team=team) for lane, team in enumerate(teams, start=2)),
    )


def plan(revision: int, inputs_digest: str) -> Plan:
    heats = (
        heat("w1-1", "w1", 1, 0, ("T1", "T2")),
        heat("w1-2", "w1", 2, 1200, ("T3", "T4")),
        heat("w2-1", "w2", 1, 3600, ("T1", "T2")),
        heat("w2-2", "w2", 2, 4800, ("T3", "T4")),
    )
    return Plan(revision=revision, inputs_digest=inputs_digest, heats=heats, finish_s=5590)


class Day:
    """A State with the entries that made it, without a store."""

    def __init__(self) -> None:
        self.state = State()
        self.at_ms = milliseconds(EVENT.starts_at)

    def ask(self, actor: Actor, request: Request) -> None:
        for body in decide(self.state, actor, request, self.at_ms):
            self.tell(actor, body)

    def tell(self, actor: Actor, body: Any) -> None:
        batch = Batch(self.state)
        seq = self.state.seq + 1
        entry = Entry(
            seq=seq,
            at_ms=self.at_ms,
            actor=actor.name,
            device=actor.device,
            key=str(seq),
            part=0,
            kind=kind_of(body),
            version=1,
            data=b"",
        )
        batch.apply(entry, body)
        self.state = batch.freeze()


def loaded_day() -> Day:
    """A day with its event, teams and plan revision 1."""
    from callroom.actions.digest import inputs_digest

    day = Day()
    day.tell(DIRECTOR, bodies.EventSet(event=EVENT))
    for entered in TEAMS:
        day.tell(DIRECTOR, bodies.TeamSet(team=entered))
    day.tell(DIRECTOR, bodies.PlanPublished(plan=plan(1, inputs_digest(day.state))))
    return day


def report(heat_id: str, team_id: str, time_ms: int, **changed: Any) -> ScoreReport:
    workout = heat_id.split("-", maxsplit=1)[0]
    lane = {"T1": 2, "T2": 3, "T3": 2, "T4": 3}[team_id]
    fields: dict[str, Any] = {
        "heat": heat_id,
        "workout": workout,
        "part": "a",
        "team": team_id,
        "lane": lane,
        "source": "pad",
        "result": Result(outcome="finished", time_ms=time_ms),
    }
    return ScoreReport(**(fields | changed))
