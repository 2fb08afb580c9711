"""What the day taught: where minutes were lost, how workouts separated, who agreed with whom."""

from itertools import combinations

import msgspec

from callroom.model import Event, Plan, ScoreReport, State, milliseconds
from callroom.model.course import left_floor_ms, walked_on_ms
from callroom.model.steps import total_counts
from callroom.planner.plates import KitUsed
from callroom.scoring import DivisionStandings, PartStandings, division_standings
from callroom.views.agreement import Agreement, NoRepRate, no_rep_rate, rank_agreement
from callroom.views.lessons_used import PostHeld, kit_of_day, posts_held
from callroom.views.timetable import CREW, WorkoutTitle, workout_title

_Order = dict[str, int]
"""The places of teams."""

# Less is no loss worth a line (common practice, no source).
_LOST_FROM_S = 60
_ALIKE = 10


class HeatTook(msgspec.Struct, frozen=True, kw_only=True):
    """One heat as planned and as it was [s from the day's start].

    `late_s` is how far its walk-on was behind the plan, `over_s` how much longer it held the
    floor than planned, `gap_s` how much of its lateness came between the heat before and it.
    """

    heat: str
    workout: WorkoutTitle
    number: int
    floor: str
    planned_s: int
    began_s: int
    ended_s: int
    late_s: int
    over_s: int
    gap_s: int


class Separated(msgspec.Struct, frozen=True, kw_only=True):
    """How well a part told the teams of a division apart.

    `division` is its name; `teams` have a place; `places` are the different places among them, `capped` how many the
    cap stopped, `largest_tie` how many share one place.
    """

    workout: WorkoutTitle
    part: str
    part_name: str
    division: str
    teams: int
    places: int
    capped: int
    largest_tie: int

    @property
    def apart_percent(self) -> int:
        """How many of the pairs of neighbours were told apart [%]; 100: no two teams level."""
        return 100 if self.teams < 2 else 100 * (self.places - 1) // (self.teams - 1)


class AgreementRow(msgspec.Struct, frozen=True, kw_only=True):
    """How far the order in a part agrees with another order of the division, named by it.

    The other order is that of the part `other` of `other_workout`, or (None) the final one.
    """

    workout: WorkoutTitle
    part: str
    part_name: str
    division: str
    agreement: Agreement
    other_workout: WorkoutTitle | None = None
    other_name: str = ""


class JudgeRate(msgspec.Struct, frozen=True, kw_only=True):
    """No-reps among the repetitions a device counted; `device` is its id, not a name."""

    device: str
    rate: NoRepRate


class Lessons(msgspec.Struct, frozen=True, kw_only=True):
    """The day in figures, as far as it was recorded. `heats` are in the order they were run."""

    heats: tuple[HeatTook, ...]
    separated: tuple[Separated, ...]
    agreements: tuple[AgreementRow, ...]
    judges: tuple[JudgeRate, ...]
    athletes: int
    crew: int
    posts: tuple[PostHeld, ...]
    kit: tuple[KitUsed, ...]

    @property
    def shifts(self) -> int:
        """How many shifts the rota had."""
        return sum(post.shifts for post in self.posts)

    @property
    def with_final(self) -> tuple[AgreementRow, ...]:
        """How far each part agrees with the final order."""
        return tuple(one for one in self.agreements if one.other_workout is None)

    @property
    def between(self) -> tuple[AgreementRow, ...]:
        """How far parts agree with one another."""
        return tuple(one for one in self.agreements if one.other_workout is not None)

    @property
    def alike(self) -> tuple[AgreementRow, ...]:
        """The ten pairs of parts that agree most, the closest first: what tests the same."""
        return tuple(sorted(self.between, key=lambda one: -one.agreement.tau)[:_ALIKE])

    @property
    def lost(self) -> tuple[HeatTook, ...]:
        """The heats at which most minutes were lost, worst first."""
        worst = sorted(self.heats, key=lambda one: -(max(one.over_s, 0) + max(one.gap_s, 0)))
        return tuple(
            one for one in worst if max(one.over_s, 0) + max(one.gap_s, 0) >= _LOST_FROM_S
        )[:5]


def lessons(state: State) -> Lessons:
    """Return what a book tells of its day; empty parts where nothing was recorded."""
    event, plan = state.event, state.plan
    if event is None or plan is None:
        return Lessons(
            heats=(), separated=(), agreements=(), judges=(), athletes=0, crew=0, posts=(), kit=()
        )
    tables = [division_standings(state, division.id) for division in event.divisions]
    return Lessons(
        heats=_heats(state, event, plan),
        separated=tuple(one for table in tables for one in _separated(event, table)),
        agreements=tuple(one for table in tables for one in _agreements(event, table)),
        judges=_judges(state, event),
        athletes=sum(len(team.athletes) for team in state.teams.values()),
        crew=len(state.crew),
        posts=posts_held(state.rota),
        kit=kit_of_day(state, event, plan),
    )


def _heats(state: State, event: Event, plan: Plan) -> tuple[HeatTook, ...]:
    start_ms = milliseconds(event.starts_at)
    found: list[HeatTook] = []
    before: dict[str, tuple[int, int]] = {}
    for heat in sorted(plan.heats, key=lambda one: (one.start_s, one.id)):
        workout, run = event.workout(heat.workout), state.heat_run(heat.id)
        on_ms, off_ms = walked_on_ms(workout, run), left_floor_ms(workout, run)
        if on_ms is None or off_ms is None:
            continue
        began_s, ended_s = (on_ms - start_ms) // 1000, (off_ms - start_ms) // 1000
        # What the heat before handed on is its doing, not this one's.
        planned_gap, real_gap = 0, 0
        if heat.floor in before:
            planned_end, real_end = before[heat.floor]
            planned_gap, real_gap = heat.start_s - planned_end, began_s - real_end
        found.append(
            HeatTook(
                heat=heat.id,
                workout=workout_title(event, workout, CREW),
                number=heat.number,
                floor=event.floor(heat.floor).name,
                planned_s=heat.start_s,
                began_s=began_s,
                ended_s=ended_s,
                late_s=began_s - heat.start_s,
                over_s=(ended_s - began_s) - (heat.end_s - heat.start_s),
                gap_s=real_gap - planned_gap if heat.floor in before else began_s - heat.start_s,
            )
        )
        before[heat.floor] = (heat.end_s, ended_s)
    return tuple(found)


def _separated(event: Event, table: DivisionStandings) -> list[Separated]:
    found = []
    for part in table.parts:
        places = [row.place for row in part.rows if row.place is not None]
        if not places:
            continue
        workout = event.workout(part.workout)
        found.append(
            Separated(
                workout=workout_title(event, workout, CREW),
                part=part.part,
                part_name=_part_name(event, part.workout, part.part),
                division=event.division(table.division).name,
                teams=len(places),
                places=len(set(places)),
                capped=sum(row.score.kind == "capped" for row in part.rows),
                largest_tie=max(places.count(place) for place in set(places)),
            )
        )
    return found


def _agreements(event: Event, table: DivisionStandings) -> list[AgreementRow]:
    """Return each part against the final order, then each part against each later one."""
    final = {row.team: row.place for row in table.rows if row.place is not None}
    orders = [
        (part, {row.team: row.place for row in part.rows if row.place is not None})
        for part in table.parts
    ]
    pairs: list[tuple[PartStandings, _Order, PartStandings | None, _Order]] = [
        (part, own, None, final) for part, own in orders
    ]
    pairs += [
        (part, own, other, theirs) for (part, own), (other, theirs) in combinations(orders, 2)
    ]
    found = []
    for part, own, other, theirs in pairs:
        both = sorted(own.keys() & theirs.keys())
        agreement = rank_agreement([own[team] for team in both], [theirs[team] for team in both])
        if agreement is not None:
            found.append(
                AgreementRow(
                    workout=_title(event, part.workout),
                    part=part.part,
                    part_name=_part_name(event, part.workout, part.part),
                    division=event.division(table.division).name,
                    agreement=agreement,
                    other_workout=_title(event, other.workout) if other is not None else None,
                    other_name=_part_name(event, other.workout, other.part)
                    if other is not None
                    else "",
                )
            )
    return found


def _title(event: Event, workout_id: str) -> WorkoutTitle:
    return workout_title(event, event.workout(workout_id), CREW)


def _part_name(event: Event, workout_id: str, part_id: str) -> str:
    workout = event.workout(workout_id)
    part = workout.part(part_id)
    return (part.name or part.id) if len(workout.parts) > 1 else ""


def _judges(state: State, event: Event) -> tuple[JudgeRate, ...]:
    counted: dict[str, tuple[int, int]] = {}
    for sheet in state.sheets.values():
        for kept in sheet.reports:
            if kept.report.source != "pad" or kept.unplaced:
                continue
            done = _counted(state, event, kept.report)
            if done is None:
                continue
            no_reps = sum(one.count for one in kept.report.no_reps)
            before = counted.get(kept.device, (0, 0))
            counted[kept.device] = (before[0] + no_reps, before[1] + done + no_reps)
    return tuple(
        JudgeRate(device=device, rate=no_rep_rate(no_reps, tries))
        for device, (no_reps, tries) in sorted(counted.items())
        if tries
    )


def _counted(state: State, event: Event, report: ScoreReport) -> int | None:
    """Return how many repetitions were counted; None where it is a distance or a load."""
    team, result = state.teams.get(report.team), report.result
    if result.outcome != "finished" or team is None:
        return result.work
    part = event.workout(report.workout).part(report.part)
    return total_counts(part, event.division(team.division))
