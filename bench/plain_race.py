"""One team after the other in plain Python: the same model as ``callroom.forecast.race``.

Written from docs/forecast.md with lists, floats and branches only, to compare results and
speed with. It reads the same course, so the same draws; nothing in the program uses it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from callroom.forecast.parameters import athlete_model

if TYPE_CHECKING:
    from callroom.forecast.course import Course, RoundWork, StepWork
    from callroom.forecast.task_work import TaskWork

MODEL = athlete_model()
FATIGUE = MODEL.fatigue
SLACK = 1e-9


@dataclass
class Ask:
    """What a task asks of one athlete."""

    pace: float
    power: float
    wear: float
    willing: bool
    unladen_pace: float = 0.0
    unladen_power: float = 0.0
    holding: float = 0.0


@dataclass
class Body:
    """One athlete."""

    span: float
    rest_time: float
    reserve: float = 1.0
    free: float = 0.0
    worked: float = 0.0
    muscles: dict[str, tuple[float, float]] = field(default_factory=dict)
    done: float = 0.0
    turns: int = 0

    def rested(self, now: float) -> float:
        """Return the reserve at `now`."""
        rest = max(now - self.free, 0.0)
        return 1 - (1 - self.reserve) * math.exp(-rest / self.rest_time)

    def recovered(self, movement: str, now: float) -> float:
        """Return how fresh the muscles of `movement` are at `now`."""
        share, since = self.muscles.get(movement, (1.0, 0.0))
        return min(share + max(now - since, 0.0) / FATIGUE.muscle_back_s, 1.0)


@dataclass
class Outcome:
    """What became of one team."""

    finish: float
    splits: list[float]
    lost: list[float]
    counts: int
    at_cap: int
    worked: list[float]


class Team:
    """One team on its way through a course."""

    def __init__(self, course: Course, asks: Asks, number: int, cap: float, horizon: float) -> None:
        """Put team `number` of the course at the start."""
        spans = [float(row[0]) for row in course.athletes.span_s]
        self.bodies = [Body(span, span / (1 - FATIGUE.rest_ratio)) for span in spans]
        self.course = course
        self.asks = asks
        self.number = number
        self.cap = cap
        self.horizon = horizon
        self.clock = 0.0
        self.counts = 0
        self.at_cap = -1
        self.splits = [math.nan] * course.step_count
        self.lost = [0.0] * course.step_count

    def run(self) -> Outcome:
        """Go through all rounds."""
        start = 0.0
        endless = False
        for rounds in self.course.rounds:
            lap = rounds.lap
            endless = endless or rounds.open_ended
            if lap == 0:
                start = self.clock
            while True:
                self.clock = max(self.clock, start + lap * rounds.every_s)
                self.round(rounds, lap)
                lap += 1
                if not rounds.open_ended or self.clock >= self.horizon:
                    break
        finish = self.clock if self.clock < self.horizon and not endless else math.inf
        return Outcome(
            finish,
            self.splits,
            self.lost,
            self.counts,
            -1 if finish <= self.cap else self.at_cap,
            [body.worked for body in self.bodies],
        )

    def round(self, rounds: RoundWork, lap: int) -> None:
        """Go through the strands of one round, which run side by side."""
        begun = ends = self.clock
        for strand in rounds.strands:
            self.clock = begun
            for step in strand:
                if self.clock < self.horizon:
                    self.step(step, lap)
            ends = max(ends, self.clock)
        self.clock = ends

    def step(self, step: StepWork, lap: int) -> None:
        """Take turns until the step is done or no time is left."""
        task = step.task
        asks = self.asks.of(task, self.number)
        for body in self.bodies:
            body.done = 0.0
            body.turns = 0
        begin = self.clock + (step.transition_s if self.clock > 0 else 0.0)
        lines = [begin] * task.slots
        latest = begin
        left = step.amount
        by_cap = 0.0
        while True:
            now = min(lines)
            slot = lines.index(now)
            if task.group == "one":
                start, pace, amount, usual = self.single(step, asks, lap, now, left)
            else:
                start, pace, amount, usual = self.group(step, asks, now, left)
            end = start + amount * pace
            before = amount
            if end > self.cap:
                before = min(max(math.floor((self.cap - start) / pace + SLACK), 0.0), amount)
            for body in self.workers:
                body.worked += before * pace
            by_cap += before
            left -= amount
            handover = task.handover_s if left > 0 else 0.0
            self.lost[step.index] += start - now + amount * (pace - usual) + handover
            if now < self.cap:
                self.at_cap = step.index
            latest = max(latest, end)
            lines[slot] = end + handover
            if left <= 0 or min(lines) >= self.horizon:
                break
        self.counts += math.floor(by_cap / step.mark + SLACK)
        if left <= 0:
            self.clock = latest
            if (lap == 0 or not step.repeats) and latest < self.horizon:
                self.splits[step.index] = latest
        else:
            self.clock = max(latest, self.horizon)

    def single(
        self, step: StepWork, asks: list[Ask], lap: int, now: float, left: float
    ) -> tuple[float, float, float, float]:
        """Let the best placed athlete do a set."""
        task = step.task
        who = self.next_one(step, asks, lap, now, left)
        body, ask = self.bodies[who], asks[who]
        start = max(now, body.free)
        fresh = body.rested(start)
        strong = body.recovered(task.movement, start)
        pace = ask.pace * (1 + task.slows * (1 - fresh))
        power = ask.power / (1 + task.fade * (1 - fresh))
        cost = (power - 1) / body.span * pace
        most = math.inf
        if not task.paced:
            fresh, strong, wait = ready(body, fresh, strong, cost, ask.wear)
            start += wait
            most = min(in_one_go(fresh, cost), in_one_go(strong, ask.wear))
        amount = self.piece(task, most, pace, left)
        if task.each:
            amount = min(amount, step.own - body.done)
        elif task.least_each > 0:
            owing = sum(
                self.owing(task, other, one) for other, one in zip(self.bodies, asks, strict=True)
            )
            own = max(task.least_each - body.done, 0.0)
            amount = min(amount, max(left - (owing - own), 1.0))
        if task.holding is not None:
            amount = self.hold(task, asks, who, start=start, pace=pace, amount=amount)
        end = start + amount * pace
        body.reserve = min(max(fresh - amount * cost, 0.0), 1.0)
        body.free = end
        body.muscles[task.movement] = (max(strong - amount * ask.wear, 0.0), end)
        body.done += amount
        body.turns += 1
        self.workers = [body]
        return start, pace, amount, ask.pace

    def next_one(self, step: StepWork, asks: list[Ask], lap: int, now: float, left: float) -> int:
        """Return who is next."""
        task = step.task
        size = len(self.bodies)
        owing = 0.0
        if task.least_each > 0 and not task.each:
            owing = sum(
                self.owing(task, body, ask) for body, ask in zip(self.bodies, asks, strict=True)
            )
        best, chosen = -math.inf, 0
        for place, (body, ask) in enumerate(zip(self.bodies, asks, strict=True)):
            if task.order == "freshest":
                score = now - body.free
            elif task.order == "each_round":
                score = -float((place - lap) % size)
            else:
                score = -float(body.turns * size + place)
            if not ask.willing:
                score -= 1e15
            if task.slots > 1:
                score += 1000.0 * min(now - body.free, 0.0)
            if task.each:
                if body.done >= step.own:
                    score = -2e15
                elif body.done > 0:
                    score += 1e5
            elif task.least_each > 0 and left <= owing and self.owing(task, body, ask) <= 0:
                score -= 1e15
            if score > best:
                best, chosen = score, place
        return chosen

    def owing(self, task: TaskWork, body: Body, ask: Ask) -> float:
        """Return what is missing to the least share of an athlete."""
        return max(task.least_each - body.done, 0.0) if ask.willing else 0.0

    def piece(self, task: TaskWork, most: float, pace: float, left: float) -> float:
        """Return how much is done in this turn."""
        room = min(most, task.turn_s / pace)
        pieces = max(math.floor(room / task.quantum + SLACK), 1.0)
        return min(pieces * task.quantum, left, task.every)

    def hold(
        self, task: TaskWork, asks: list[Ask], who: int, *, start: float, pace: float, amount: float
    ) -> float:
        """Return how much is done while the strongest partner holds."""
        best, partner = -math.inf, 0
        for place, body in enumerate(self.bodies):
            strong = body.recovered(task.held, start) if place != who else -1.0
            if strong > best:
                best, partner = strong, place
        wear = asks[partner].holding * pace
        amount = min(
            amount, max(math.floor(best / wear / task.quantum + SLACK), 1.0) * task.quantum
        )
        self.bodies[partner].muscles[task.held] = (
            max(best - amount * wear, 0.0),
            start + amount * pace,
        )
        return amount

    def group(
        self, step: StepWork, asks: list[Ask], now: float, left: float
    ) -> tuple[float, float, float, float]:
        """Let several athletes work in step, or the team travel with one object."""
        task = step.task
        states = [(body.rested(now), body.recovered(task.movement, now)) for body in self.bodies]
        willing = [place for place, ask in enumerate(asks) if ask.willing]
        by_score = sorted(willing, key=lambda place: self.bodies[place].free - now)
        carried = task.group == "carry"
        members = willing if carried else by_score[: task.workers]
        plans = []
        for place in members:
            ask = asks[place]
            laden = not carried or place == by_score[0]
            pace = ask.pace if laden else ask.unladen_pace
            power = ask.power if laden else ask.unladen_power
            own = pace * (1 + task.slows * (1 - states[place][0]))
            plans.append((place, pace, power, own, ask.wear if laden else 0.0))
        slowest = max(plan[3] for plan in plans)
        if task.workers > 1:
            slowest *= MODEL.teamwork.in_step
        wait, most, after = 0.0, math.inf, []
        for place, _, power, own, wear in plans:
            body, (fresh, strong) = self.bodies[place], states[place]
            eased = power / (1 + task.fade * (1 - fresh)) * own / slowest
            cost = (eased - 1) / body.span * slowest
            if not task.paced:
                fresh, strong, longer = ready(body, fresh, strong, cost, wear)
                wait = max(wait, longer)
                most = min(most, in_one_go(fresh, cost), in_one_go(strong, wear))
            after.append((body, fresh, strong, cost, wear))
        amount = self.piece(task, most, slowest, left)
        end = now + wait + amount * slowest
        for body, fresh, strong, cost, wear in after:
            body.reserve = min(max(fresh - amount * cost, 0.0), 1.0)
            body.free = end
            body.muscles[task.movement] = (max(strong - amount * wear, 0.0), end)
        self.workers = [body for body, *_ in after]
        return now + wait, slowest, amount, max(plan[1] for plan in plans)


def ready(
    body: Body, fresh: float, strong: float, cost: float, wear: float
) -> tuple[float, float, float]:
    """Return reserve and muscles at the start of a set, and the wait for both."""
    needed = min(FATIGUE.kept + max(cost, FATIGUE.least_set), FATIGUE.most_needed)
    wait = 0.0
    if fresh < needed:
        wait = body.rest_time * math.log((1 - fresh) / (1 - needed))
        fresh = needed
    needed = min(FATIGUE.kept + max(wear, FATIGUE.least_set), FATIGUE.most_needed)
    if strong < needed:
        wait = max(wait, FATIGUE.muscle_back_s * (needed - strong))
        strong = needed
    return fresh, strong, wait


def in_one_go(share: float, cost: float) -> float:
    """Return how many units fit between `share` and where a set ends."""
    return (share - FATIGUE.kept) / max(cost, 1e-9)


class Asks:
    """What the tasks of a course ask of each athlete, as plain values."""

    def __init__(self, course: Course) -> None:
        """Unpack the arrays of every task once."""
        self.by_task: dict[int, list[list[Ask]]] = {}
        for rounds in course.rounds:
            for strand in rounds.strands:
                for step in strand:
                    if id(step.task) not in self.by_task:
                        self.by_task[id(step.task)] = unpack(step.task)

    def of(self, task: TaskWork, team: int) -> list[Ask]:
        """Return what `task` asks of the athletes of `team`."""
        return self.by_task[id(task)][team]


def unpack(task: TaskWork) -> list[list[Ask]]:
    """Return what `task` asks, by team and athlete."""
    ask, light = task.demand, task.unladen
    columns = [ask.pace_s.tolist(), ask.power.tolist(), ask.drain.tolist(), task.willing.tolist()]
    columns += [light.pace_s.tolist(), light.power.tolist()] if light else [columns[0], columns[1]]
    columns.append(task.holding.tolist() if task.holding is not None else columns[2])
    athletes = range(len(columns[0]))
    return [
        [Ask(*(column[place][team] for column in columns)) for place in athletes]
        for team in range(len(columns[0][0]))
    ]


def plain_race(course: Course, *, cap_s: float, horizon_s: float, teams: int) -> list[Outcome]:
    """Return what becomes of the first `teams` teams of `course`."""
    asks = Asks(course)
    return [Team(course, asks, number, cap_s, horizon_s).run() for number in range(teams)]
