"""The rota as people read it: who is where and when, what is short, what changed for whom."""

from collections.abc import Mapping
from typing import Literal

import msgspec

from callroom.model import Event, Finding, Heat, NotFound, Rota, State
from callroom.model.person import Person
from callroom.planner.rota import (
    RotaProblem,
    RotaRepair,
    SheetLine,
    remedies,
    sheets,
    shortages,
)
from callroom.views.masthead import Masthead, masthead, published
from callroom.views.timetable import CREW, WorkoutTitle, workout_title


class DutyHeat(msgspec.Struct, frozen=True, kw_only=True):
    """A heat that is judged: its workout and number, and when it walks on [s]."""

    workout: WorkoutTitle
    number: int
    start_s: int


class DutyLine(msgspec.Struct, frozen=True, kw_only=True):
    """One stretch of somebody's day [s from the day's start].

    `kind` is ``duty``, ``competes`` or ``pause``; `floor` is a name, `heats` those judged or
    competed in.
    """

    kind: Literal["duty", "competes", "pause"]
    start_s: int
    end_s: int
    post: str = ""
    floor: str = ""
    lane: int | None = None
    seat: int = 1
    heats: tuple[DutyHeat, ...] = ()
    name: str = ""


class PersonDay(msgspec.Struct, frozen=True, kw_only=True):
    """A volunteer's day; `name` is empty where nobody's name may be shown.

    `bars` are the lines that are on duty or compete, for a picture; `on_duty_s` is their
    length in all [s]; `free_s` the longest time off between the first and the last duty.
    """

    person: str
    name: str
    posts: tuple[str, ...]
    lines: tuple[DutyLine, ...]
    on_duty_s: int
    free_s: int

    @property
    def bars(self) -> tuple[DutyLine, ...]:
        """The lines without pauses."""
        return tuple(line for line in self.lines if line.kind != "pause")


class RotaDay(msgspec.Struct, frozen=True, kw_only=True):
    """The whole rota; `first_s` and `last_s` bound it [s from the day's start].

    `old`: it was made for an earlier revision of the plan. `open_shifts` are how many nobody
    holds; `judging_shifts` how many lanes have to be judged in all.
    """

    masthead: Masthead
    people: tuple[PersonDay, ...]
    open_shifts: int
    judging_shifts: int
    first_s: int
    last_s: int
    old: bool


class Shortage(msgspec.Struct, frozen=True, kw_only=True):
    """What is short and when, who has nothing to do, and what would do."""

    short: tuple[Finding, ...]
    remedies: tuple[Finding, ...]


def rota_day(state: State, rota: Rota, people: Mapping[str, Person]) -> RotaDay:
    """Return a rota by person, those with a name in order of name.

    Parameters
    ----------
    people
        Everybody whose name may be shown; empty on a page that others can read along.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    _, plan = published(state)
    days = tuple(_person_day(state, rota, member.person, people) for member in state.crew.values())
    spans = [(shift.start_s, shift.end_s) for shift in rota.shifts]
    spans += [(heat.start_s, heat.end_s) for heat in plan.heats]
    return RotaDay(
        masthead=masthead(state),
        people=tuple(sorted(days, key=lambda one: (one.name.casefold(), one.person))),
        open_shifts=len(rota.open_shifts()),
        judging_shifts=sum(shift.post == "judge" for shift in rota.shifts),
        first_s=min((start_s for start_s, _ in spans), default=0),
        last_s=max((end_s for _, end_s in spans), default=0),
        old=rota.plan_revision != plan.revision,
    )


def person_day(state: State, rota: Rota, person: str, people: Mapping[str, Person]) -> PersonDay:
    """Return one volunteer's day; NotFound if there is no such volunteer."""
    if person not in state.crew:
        raise NotFound("person.unknown", person=person)
    return _person_day(state, rota, person, people)


def left_open(problem: RotaProblem, rota: Rota) -> tuple[Finding, ...]:
    """Return what a rota leaves open, without looking for what would do, which takes seconds."""
    return shortages(problem, rota)


def shortage(problem: RotaProblem, rota: Rota) -> Shortage:
    """Return what a rota leaves open, and single changes with which it would not."""
    return Shortage(short=shortages(problem, rota), remedies=remedies(problem, rota))


class HandOver(msgspec.Struct, frozen=True, kw_only=True):
    """A shift that changes hands: between whom (empty: nobody), where and when [s]."""

    before: str
    after: str
    post: str
    floor: str
    lane: int | None
    start_s: int
    end_s: int


def hand_overs(
    state: State, repair: RotaRepair, people: Mapping[str, Person]
) -> tuple[HandOver, ...]:
    """Return what changes hands in a mended rota, in order of time, by name."""
    event, _ = published(state)
    shifts = {shift.id: shift for shift in repair.rota.shifts}
    floors = {floor.id: floor.name for floor in event.floors}
    return tuple(
        HandOver(
            before=name_of(move.before, people),
            after=name_of(move.after, people),
            post=shifts[move.shift].post,
            floor=floors.get(shifts[move.shift].floor, ""),
            lane=shifts[move.shift].lane,
            start_s=shifts[move.shift].start_s,
            end_s=shifts[move.shift].end_s,
        )
        for move in repair.moves
    )


class ShiftToCome(msgspec.Struct, frozen=True, kw_only=True):
    """A shift that can still change hands, and who holds it (empty: nobody) [s]."""

    id: str
    post: str
    floor: str
    lane: int | None
    start_s: int
    holder: str


def shifts_to_come(
    state: State, rota: Rota, now_s: int, people: Mapping[str, Person]
) -> tuple[ShiftToCome, ...]:
    """Return the shifts of a rota that start after `now_s` [s], in order of time."""
    event, _ = published(state)
    floors = {floor.id: floor.name for floor in event.floors}
    holder = {duty.shift: duty.person for duty in rota.duties}
    ahead = (shift for shift in rota.shifts if shift.start_s > now_s)
    return tuple(
        ShiftToCome(
            id=shift.id,
            post=shift.post,
            floor=floors.get(shift.floor, ""),
            lane=shift.lane,
            start_s=shift.start_s,
            holder=name_of(holder[shift.id], people) if shift.id in holder else "",
        )
        for shift in sorted(ahead, key=lambda one: (one.start_s, one.floor, one.lane or 0, one.id))
    )


def name_of(person: str, people: Mapping[str, Person]) -> str:
    """Return somebody's name, or their number where there is none."""
    known = people.get(person)
    return known.name if known is not None else person


def _person_day(state: State, rota: Rota, person: str, people: Mapping[str, Person]) -> PersonDay:
    event, plan = published(state)
    member = state.crew[person]
    (sheet,) = sheets(rota, plan, [member], break_s=state.rota_rules.break_s)
    heats = {heat.id: heat for heat in plan.heats}
    floors = {floor.id: floor.name for floor in event.floors}
    lines = [_line(event, heats, floors, line) for line in sheet.lines]
    lines += [
        DutyLine(
            kind="pause",
            start_s=pause.start_s,
            end_s=pause.start_s + pause.length_s,
            name=pause.name,
        )
        for pause in plan.pauses
        if not pause.floors
    ]
    return PersonDay(
        person=person,
        name=people[person].name if person in people else "",
        posts=member.posts,
        lines=tuple(sorted(lines, key=lambda one: (one.start_s, one.end_s))),
        on_duty_s=sheet.on_duty_s,
        free_s=_longest_gap_s(sheet.lines),
    )


def _longest_gap_s(lines: tuple[SheetLine, ...]) -> int:
    end_s: int | None = None
    most_s = 0
    for line in lines:
        if end_s is not None:
            most_s = max(most_s, line.start_s - end_s)
        end_s = line.end_s if end_s is None else max(end_s, line.end_s)
    return most_s


def _line(
    event: Event, heats: Mapping[str, Heat], floors: Mapping[str, str], line: SheetLine
) -> DutyLine:
    known = (heats[heat] for heat in line.heats if heat in heats)
    return DutyLine(
        kind=line.kind,
        start_s=line.start_s,
        end_s=line.end_s,
        post=line.post,
        floor=floors.get(line.floor, ""),
        lane=line.lane,
        seat=line.seat,
        heats=tuple(
            DutyHeat(
                workout=workout_title(event, event.workout(heat.workout), CREW),
                number=heat.number,
                start_s=heat.start_s,
            )
            for heat in known
        ),
    )
