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
    spent: float = 0.0
    free: float = 0.0
    worked: float = 0.0
    muscles: dict[str, tuple[float, float]] = field(default_factory=dict)
    done: float = 0.0

    def rested(self, now: float) -> float:
        """Return what is spent of the reserve at `now`."""
        rest = max(now - self.free, 0.0)
        return self.spent * math.exp(-rest / self.rest_time)

    def tired(self, movement: str, now: float) -> float:
        """Return how worn the muscles of `movement` are at `now`."""
        worn, since = self.muscles.get(movement, (0.0, 0.0))
        return max(worn - max(now - since, 0.0) / FATIGUE.muscle_back_s, 0.0)


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
        begin = self.clock + (step.transition_s if self.clock > 0 else 0.0)
        self.order = task.rotation(step.place(lap), lap)
        self.at = 0
        self.first = step.place(lap)
        lines = [begin] * task.slots
        latest = begin
        left = step.amount
        by_cap = 0.0
        while left > 0 and min(lines) < self.horizon:
            now = min(lines)
            slot = lines.index(now)
            if task.group == "one":
                start, pace, amount, usual = self.single(step, asks, now, left)
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
            handover = task.handover_s if left > 0 and self.changes(step) else 0.0
            self.lost[step.index] += start - now + amount * (pace - usual) + handover
            if now < self.cap:
                self.at_cap = step.index
            latest = max(latest, end)
            lines[slot] = end + handover
        self.counts += math.floor(by_cap / step.mark + SLACK)
        if left <= 0:
            self.clock = latest
            if (lap == 0 or not step.repeats) and latest < self.horizon:
                self.splits[step.index] = latest
        else:
            self.clock = max(latest, self.horizon)

    def changes(self, step: StepWork) -> bool:
        """Return whether somebody else is next, or the same one after a pause."""
        one_by_one = step.task.each and not by_rest(step.task)
        return not one_by_one or self.workers[0].done >= step.own

    def single(
        self, step: StepWork, asks: list[Ask], now: float, left: float
    ) -> tuple[float, float, float, float]:
        """Let the one whose turn it is do a set."""
        task = step.task
        who = (
            self.rested_longest(step, asks, now, left)
            if by_rest(task)
            else self.in_turn(step, asks)
        )
        body, ask = self.bodies[who], asks[who]
        start = max(now, body.free)
        spent = body.rested(start)
        pace = ask.pace * (1 + task.slows * spent)
        power = ask.power / (1 + task.fade * spent)
        cost = (power - 1) / body.span * pace
        worn, most = 0.0, math.inf
        if not task.paced:
            worn = body.tired(task.movement, start)
            spent, worn, wait = ready(body, spent, worn, cost, ask.wear)
            start += wait
            most = in_one_go(spent, cost, worn, ask.wear)
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
        body.spent = min(max(spent + amount * cost, 0.0), 1.0)
        body.free = end
        if not task.paced:
            body.muscles[task.movement] = (min(worn + amount * ask.wear, 1.0), end)
        body.done += amount
        self.workers = [body]
        return start, pace, amount, ask.pace

    def in_turn(self, step: StepWork, asks: list[Ask]) -> int:
        """Return who is next in the order of the line-up."""
        while True:
            place = self.order[self.at % len(self.order)]
            if step.task.each:
                if self.bodies[place].done < step.own:
                    return place
                self.at += 1
            else:
                self.at += 1
                if asks[place].willing:
                    return place

    def rested_longest(self, step: StepWork, asks: list[Ask], now: float, left: float) -> int:
        """Return who has rested longest, of those who may go on."""
        task = step.task
        owing = 0.0
        if task.least_each > 0 and not task.each:
            owing = sum(
                self.owing(task, body, ask) for body, ask in zip(self.bodies, asks, strict=True)
            )
        best, chosen = -math.inf, 0
        for place, (body, ask) in enumerate(zip(self.bodies, asks, strict=True)):
            score = -body.free + 1000.0 * min(now - body.free, 0.0)
            if not ask.willing:
                score -= 1e15
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
        partner = (who + len(self.bodies) // 2) % len(self.bodies)
        least = self.bodies[partner].tired(task.held, start)
        wear = asks[partner].holding * pace
        pieces = math.floor((1 - least) / wear / task.quantum + SLACK)
        amount = min(amount, max(pieces, 1.0) * task.quantum)
        self.bodies[partner].muscles[task.held] = (
            min(least + amount * wear, 1.0),
            start + amount * pace,
        )
        return amount

    def group(
        self, step: StepWork, asks: list[Ask], now: float, left: float
    ) -> tuple[float, float, float, float]:
        """Let several athletes work in step, or the team travel with one object."""
        task = step.task
        willing = [place for place, ask in enumerate(asks) if ask.willing]
        by_rest = sorted(willing, key=lambda place: self.bodies[place].free)
        carried = task.group == "carry"
        members = by_rest if carried else by_rest[: task.workers]
        holder = by_rest[0]
        if len(members) == len(self.bodies):
            holder = (self.first + self.at) % len(self.bodies)
            self.at += 1
        plans = []
        for place in members:
            body, ask = self.bodies[place], asks[place]
            laden = not carried or place == holder
            spent = body.rested(now)
            usual = ask.pace if laden else ask.unladen_pace
            plans.append(
                Plan(
                    body=body,
                    spent=spent,
                    usual=usual,
                    own=usual * (1 + task.slows * spent),
                    power=ask.power if laden else ask.unladen_power,
                    wear=ask.wear if laden else 0.0,
                )
            )
        pace = max(plan.own for plan in plans)
        if len(plans) > 1 and not carried:
            pace *= MODEL.teamwork.in_step
        wait, most = 0.0, math.inf
        for plan in plans:
            eased = plan.power / (1 + task.fade * plan.spent) * plan.own / pace
            plan.cost = (eased - 1) / plan.body.span * pace
            if not task.paced:
                plan.worn = plan.body.tired(task.movement, now)
                plan.spent, plan.worn, longer = ready(
                    plan.body, plan.spent, plan.worn, plan.cost, plan.wear
                )
                wait = max(wait, longer)
                most = min(most, in_one_go(plan.spent, plan.cost, plan.worn, plan.wear))
        amount = self.piece(task, most, pace, left)
        end = now + wait + amount * pace
        for plan in plans:
            plan.body.spent = min(max(plan.spent + amount * plan.cost, 0.0), 1.0)
            plan.body.free = end
            if not task.paced:
                plan.body.muscles[task.movement] = (min(plan.worn + amount * plan.wear, 1.0), end)
        self.workers = [plan.body for plan in plans]
        return now + wait, pace, amount, max(plan.usual for plan in plans)


@dataclass
class Plan:
    """What one member of a group is about to do."""

    body: Body
    spent: float
    usual: float
    own: float
    power: float
    wear: float
    worn: float = 0.0
    cost: float = 0.0


def by_rest(task: TaskWork) -> bool:
    """Return whether who is next depends on who has rested longest."""
    return task.slots > 1 or task.least_each > 0


def ready(
    body: Body, spent: float, worn: float, cost: float, wear: float
) -> tuple[float, float, float]:
    """Return what is spent and worn at the start of a set, and the wait for both."""
    wait = 0.0
    limit = allowed(cost)
    if spent > limit:
        wait = body.rest_time * math.log(spent / limit)
        spent = limit
    limit = allowed(wear)
    if worn > limit:
        wait = max(wait, FATIGUE.muscle_back_s * (worn - limit))
        worn = limit
    return spent, worn, wait


def allowed(cost: float) -> float:
    """Return what may be spent at the start of a set of units that take `cost` each."""
    return max(1 - FATIGUE.kept - max(cost, FATIGUE.least_set), 1 - FATIGUE.most_needed)


def in_one_go(spent: float, cost: float, worn: float, wear: float) -> float:
    """Return how many units fit in a set."""
    limit = 1 - FATIGUE.kept
    return min((limit - spent) / max(cost, 1e-9), (limit - worn) / max(wear, 1e-9))


class Asks:
    """What the tasks of a course ask of each athlete, as plain values."""

    def __init__(self, course: Course, teams: int) -> None:
        """Unpack the arrays of every task once, for the first `teams` teams."""
        self.by_task: dict[int, list[list[Ask]]] = {}
        for rounds in course.rounds:
            for strand in rounds.strands:
                for step in strand:
                    if id(step.task) not in self.by_task:
                        self.by_task[id(step.task)] = unpack(step.task, teams)

    def of(self, task: TaskWork, team: int) -> list[Ask]:
        """Return what `task` asks of the athletes of `team`."""
        return self.by_task[id(task)][team]


def unpack(task: TaskWork, teams: int) -> list[list[Ask]]:
    """Return what `task` asks, by team and athlete, of the first `teams` teams."""
    ask, light = task.demand, task.unladen
    columns = [ask.pace_s.tolist(), ask.power.tolist(), ask.drain.tolist(), task.willing.tolist()]
    columns += [light.pace_s.tolist(), light.power.tolist()] if light else [columns[0], columns[1]]
    columns.append(task.holding.tolist() if task.holding is not None else columns[2])
    athletes = range(len(columns[0]))
    return [
        [Ask(*(column[place][team] for column in columns)) for place in athletes]
        for team in range(teams)
    ]


def plain_race(
    course: Course, *, cap_s: float, horizon_s: float, teams: int, asks: Asks | None = None
) -> list[Outcome]:
    """Return what becomes of the first `teams` teams of `course`."""
    asks = asks or Asks(course, teams)
    return [Team(course, asks, number, cap_s, horizon_s).run() for number in range(teams)]
