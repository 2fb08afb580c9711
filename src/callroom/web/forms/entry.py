"""The entry form of one team's attempt at a workout, fitted to the kind of each part."""

from collections.abc import Mapping

import msgspec

from callroom.model import Finding, Lift, NotFound, State, Task
from callroom.model.lanes import attempts
from callroom.model.mass import MassUnit
from callroom.model.score import SheetRef
from callroom.views.codes import CardRef
from callroom.views.heat_desk import SheetView, sheet_view
from callroom.views.masthead import published
from callroom.views.timetable import CREW, HeatSlot, WorkoutTitle, heat_slot, workout_title
from callroom.views.wording import decimal, result_time

# The paper card has this many rows where the workout does not say how many tries there are.
_USUAL_TRIES = 6
# Beyond what anybody allows; it only keeps a form from growing without end.
_MOST_TRIES = 12


class LiftField(msgspec.Struct, frozen=True, kw_only=True):
    """One try at one lift: the names of its two fields, and what stands in them."""

    task: Task
    number: int
    name: str
    load: str
    good: bool


class PartEntry(msgspec.Struct, frozen=True, kw_only=True):
    """The fields of one part.

    `values` has what stands in each field by name, `faults` what is wrong with it; names
    begin with the part's id and a dot.
    """

    view: SheetView
    lifts: tuple[LiftField, ...]
    values: Mapping[str, str]
    faults: Mapping[str, Finding] = {}

    @property
    def lift_groups(self) -> tuple[tuple[LiftField, ...], ...]:
        """The tries of each lift, in the order of the card."""
        groups: dict[str, list[LiftField]] = {}
        for lift in self.lifts:
            groups.setdefault(lift.task.id, []).append(lift)
        return tuple(tuple(group) for group in groups.values())

    def name(self, field: str) -> str:
        """Return the name of one of the part's fields."""
        return f"{self.view.ref.part}.{field}"

    def value(self, field: str) -> str:
        """Return what stands in a field."""
        return self.values.get(self.name(field), "")

    def fault(self, field: str) -> Finding | None:
        """Return what is wrong with a field."""
        return self.faults.get(self.name(field))


class EntryForm(msgspec.Struct, frozen=True, kw_only=True):
    """The form of one card: a team's attempt at a workout, all parts of it.

    `heat` and `lane` are None for a team without a heat in the plan; `attempts` counts the
    first one and every re-run that was granted.
    """

    ref: CardRef
    attempts: int
    workout: WorkoutTitle
    team: str
    division: str
    unit: MassUnit
    heat: HeatSlot | None
    lane: int | None
    floor: str
    withdrawn: bool
    parts: tuple[PartEntry, ...]


def entry_form(
    state: State,
    ref: CardRef,
    *,
    filled: bool = False,
    typed: Mapping[str, str] | None = None,
    faults: tuple[Finding, ...] = (),
) -> EntryForm:
    """Return the form of a card; NotFound if there is no such card.

    Parameters
    ----------
    filled
        Put the counting result into the fields, for a correction.
    typed, faults
        What somebody typed, with what is wrong with it, to be shown again.
    """
    event, plan = published(state)
    workout = next((one for one in event.workouts if one.id == ref.workout), None)
    team = state.teams.get(ref.team)
    if workout is None or team is None:
        raise NotFound("sheet.unknown", workout=ref.workout, part="", team=ref.team)
    heat = plan.heat_of(ref.workout, ref.team)
    by_field = {finding.subject: finding for finding in faults}
    parts = []
    for part in workout.parts:
        sheet = SheetRef(workout=ref.workout, part=part.id, team=ref.team, attempt=ref.attempt)
        view = sheet_view(state, sheet)
        values = dict(typed) if typed is not None else _filled(view) if filled else {}
        lifts = _lift_fields(view, values, typed_once=typed is not None)
        parts.append(PartEntry(view=view, lifts=lifts, values=values, faults=by_field))
    return EntryForm(
        ref=ref,
        attempts=attempts(state, ref.workout, ref.team),
        workout=workout_title(event, workout, CREW),
        team=team.name,
        division=event.division(team.division).name,
        unit=event.mass_unit,
        heat=heat_slot(state, heat) if heat is not None else None,
        lane=heat.lane_of(ref.team) if heat is not None else None,
        floor=event.floor(workout.floor).name,
        withdrawn=ref.team in state.team_status,
        parts=tuple(parts),
    )


def _lift_fields(
    view: SheetView, values: Mapping[str, str], *, typed_once: bool
) -> tuple[LiftField, ...]:
    fields = []
    for task in view.work.lifts:
        rows = max(min(task.tries or _USUAL_TRIES, _MOST_TRIES), _tries_made(view, task))
        for number in range(1, rows + 1):
            name = f"{view.ref.part}.lift.{task.id}.{number}"
            good = f"{name}.good" in values if typed_once or values else True
            load = values.get(name, "")
            fields.append(
                LiftField(task=task, number=number, name=name, load=load, good=good or not load)
            )
    return tuple(fields)


def _tries_made(view: SheetView, task: Task) -> int:
    """Return how many tries a pad has handed in: a correction must show, and so keep, each."""
    results = [kept.report.result for kept in view.sheet.reports]
    return max((sum(lift.task == task.id for lift in one.lifts) for one in results), default=0)


def _filled(view: SheetView) -> dict[str, str]:
    result = view.sheet.counting
    if result is None:
        return {}
    part = view.ref.part
    filled = {
        f"{part}.ending": result.outcome if result.outcome in _ENDINGS else "",
        f"{part}.time": _time(result.time_ms, view),
        f"{part}.work": "" if result.work is None else str(result.work),
        f"{part}.metres": "" if result.distance_m is None else str(result.distance_m),
        f"{part}.split": _time(result.tiebreak_ms, view),
        f"{part}.modified": "yes" if result.modified else "",
        f"{part}.medical_stop": "yes" if result.medical_stop else "",
    }
    made: dict[str, int] = {}
    for lift in result.lifts:
        made[lift.task] = made.get(lift.task, 0) + 1
        name = f"{part}.lift.{lift.task}.{made[lift.task]}"
        filled[name] = _load(lift)
        if lift.good:
            filled[f"{name}.good"] = "yes"
    return {name: value for name, value in filled.items() if value}


_ENDINGS = frozenset({"did_not_start", "withdrew"})


def _time(time_ms: int | None, view: SheetView) -> str:
    return "" if time_ms is None else result_time(time_ms, view.work.part.resolution_ms)


def _load(lift: Lift) -> str:
    return f"{decimal(lift.mass.amount)} {lift.mass.unit}"


def only_part(form: EntryForm, part_id: str) -> EntryForm:
    """Return a form with one of its parts alone."""
    parts = tuple(part for part in form.parts if part.view.ref.part == part_id)
    return msgspec.structs.replace(form, parts=parts)
