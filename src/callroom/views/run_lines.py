"""What the plan, the rota, the kit and the side programme put on the run sheet."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

import msgspec

from callroom.model import Event, Fact, Finding, Heat, Plan, State, wall_time
from callroom.views.day_times import DayTimes
from callroom.views.run_line import CrewOfDay, InCharge, RunKind, RunLine
from callroom.views.side_programme import place_of

if TYPE_CHECKING:
    from datetime import date

# Before the first heat of a day, or after its last, in seconds. Common practice, no source: what
# is otherwise goes into the side programme, which can be kept from the public.
_SET_UP_S, _SET_UP_FOR_S = 9_000, 5_400
_DOORS_S = 5_400
_CHECK_IN_S, _CHECK_IN_FOR_S = 4_500, 2_700
_JUDGES_S, _JUDGES_FOR_S = 2_700, 1_200
_PACK_FOR_S = 5_400
_AROUND_S = 7_200


def lines_of_plan(
    state: State, event: Event, plan: Plan, crew: CrewOfDay, times: DayTimes
) -> Iterator[RunLine]:
    """Return heats and changeovers, pauses, releases, postings, and what frames each day."""
    by_day: dict[date, list[Heat]] = {}
    for heat in sorted(plan.heats, key=lambda one: (one.start_s, one.id)):
        day = wall_time(event.instant(heat.start_s), event.zone).date()
        by_day.setdefault(day, []).append(heat)
    for heats in by_day.values():
        yield from _frame(heats, plan, crew)
        for floor in event.floors:
            here = [heat for heat in heats if heat.floor == floor.id]
            yield from _floor(state, event, here, crew, times)
    yield from _pauses(event, plan, crew)
    for workout in event.workouts:
        ends = [heat.end_s for heat in plan.heats if heat.workout == workout.id]
        if ends:
            yield _moment("posting", max(ends), ("head_judge", "desk"), crew, workout.name)
        if workout.release_s is not None:
            at_s = workout.release_s
            yield _moment("release", at_s, ("announcer", "desk"), crew, workout.name)


def _moment(
    kind: RunKind, at_s: int, posts: tuple[str, ...], crew: CrewOfDay, workout: str
) -> RunLine:
    return RunLine(
        start_s=at_s,
        end_s=None,
        kind=kind,
        says=_says(kind, workout=workout),
        posts=posts,
        people=crew.at(posts, at_s),
    )


def _pauses(event: Event, plan: Plan, crew: CrewOfDay) -> Iterator[RunLine]:
    """Return the pauses of the plan; those kept for the side programme stand there already."""
    names = {floor.id: floor.name for floor in event.floors}
    for pause in plan.pauses:
        if not pause.id.startswith("side-"):
            yield RunLine(
                start_s=pause.start_s,
                end_s=pause.start_s + pause.length_s,
                kind="pause",
                says=_says("pause", name=pause.name),
                where=", ".join(names[floor] for floor in pause.floors if floor in names),
                posts=("announcer",),
                people=crew.at(("announcer",), pause.start_s),
            )


def _says(rule: str, **facts: Fact) -> Finding:
    return Finding(rule=f"run.{rule}", severity="note", subject="run", facts=facts)


def _frame(heats: list[Heat], plan: Plan, crew: CrewOfDay) -> Iterator[RunLine]:
    """Return what goes before the first heat of a day and after its last."""
    first_s = heats[0].start_s
    over_s = max(heat.end_s for heat in heats)
    day_over_s = max(
        [over_s]
        + [
            pause.start_s + pause.length_s
            for pause in plan.pauses
            if first_s <= pause.start_s <= over_s + _AROUND_S
        ]
    )
    rows: tuple[tuple[RunKind, int, int | None, tuple[str, ...]], ...] = (
        ("set_up", first_s - _SET_UP_S, _SET_UP_FOR_S, ("kit", "floor")),
        ("doors", first_s - _DOORS_S, None, ("welcome",)),
        ("check_in", first_s - _CHECK_IN_S, _CHECK_IN_FOR_S, ("desk", "welcome")),
        ("briefing", first_s - _JUDGES_S, _JUDGES_FOR_S, ("head_judge",)),
        ("pack", day_over_s, _PACK_FOR_S, ("kit", "floor")),
    )
    for kind, start_s, for_s, posts in rows:
        yield RunLine(
            start_s=start_s,
            end_s=None if for_s is None else start_s + for_s,
            kind=kind,
            says=_says(kind),
            posts=posts,
            people=crew.at(posts, start_s),
        )


def _floor(
    state: State, event: Event, heats: list[Heat], crew: CrewOfDay, times: DayTimes
) -> Iterator[RunLine]:
    """Return the heats of one floor on one day, and the changeovers between unlike ones."""
    before: Heat | None = None
    for heat in heats:
        workout = event.workout(heat.workout)
        name = event.floor(heat.floor).name
        if before is not None and before.workout != heat.workout:
            posts = ("kit", "floor")
            yield RunLine(
                start_s=before.end_s,
                end_s=heat.start_s,
                kind="changeover",
                says=_says("changeover", workout=workout.name),
                where=name,
                posts=posts,
                people=crew.at(posts, before.end_s, heat.floor),
            )
        run = state.heat_run(heat.id)
        over = run.stage in {"finished", "confirmed"}
        on = run.stage == "started" or run.on_floor_ms is not None
        posts = ("call", "floor")
        yield RunLine(
            start_s=heat.start_s,
            end_s=heat.end_s,
            kind="heat",
            says=_says(
                "heat",
                workout=workout.name,
                number=heat.number,
                teams=len([team for team in heat.teams if team not in state.team_status]),
                report_at_s=heat.start_s - event.report_ahead_s(workout),
            ),
            where=name,
            posts=(*posts, "judge"),
            people=(*crew.at(posts, heat.start_s, heat.floor), *crew.judges(heat.id)),
            expected_s=times.late_start_s(heat.id),
            standing="past" if over else "now" if on else "ahead",
        )
        before = heat


def lines_of_side(state: State) -> Iterator[RunLine]:
    """Return every time of the side programme, public or not."""
    for item in state.side.values():
        people = (InCharge(person=item.person, post=item.kind),) if item.person else ()
        for span in item.spans:
            yield RunLine(
                start_s=span.start_s,
                end_s=span.end_s,
                kind="side",
                says=_says("side", name=item.name),
                where=place_of(state, item),
                people=people,
            )


def lines_of_rota(state: State, event: Event) -> Iterator[RunLine]:
    """Return who comes on duty at posts other than judging; shifts in a row are one line."""
    rota = state.rota
    if rota is None:
        return
    held = {duty.shift: duty.person for duty in rota.duties}
    names = {floor.id: floor.name for floor in event.floors}
    begun: dict[tuple[str, str, str, int], RunLine] = {}
    for shift in sorted(rota.shifts, key=lambda one: (one.start_s, one.id)):
        if shift.heat:
            continue
        person = held.get(shift.id, "")
        station = (person, shift.post, shift.floor, shift.seat)
        line = begun.get(station)
        if line is not None and line.end_s == shift.start_s:
            begun[station] = msgspec.structs.replace(line, end_s=shift.end_s)
            continue
        if line is not None:
            yield line
        begun[station] = RunLine(
            start_s=shift.start_s,
            end_s=shift.end_s,
            kind="shift",
            says=_says("shift" if person else "shift_open", post=shift.post),
            where=names.get(shift.floor, ""),
            posts=(shift.post,),
            people=(InCharge(person=person, post=shift.post),) if person else (),
        )
    yield from begun.values()


def lines_of_kit(state: State, crew: CrewOfDay) -> Iterator[RunLine]:
    """Return what goes back to each lender, after everything of the last day."""
    plan = state.plan
    pieces: dict[str, int] = {}
    for item in state.kit:
        if item.lender:
            pieces[item.lender] = pieces.get(item.lender, 0) + item.count
    if plan is None or not pieces:
        return
    over_s = max(
        [heat.end_s for heat in plan.heats]
        + [pause.start_s + pause.length_s for pause in plan.pauses],
        default=0,
    )
    for lender, count in pieces.items():
        yield RunLine(
            start_s=over_s + _PACK_FOR_S,
            end_s=None,
            kind="kit_back",
            says=_says("kit_back", lender=lender, count=count),
            posts=("kit",),
            people=crew.at(("kit",), over_s),
        )
