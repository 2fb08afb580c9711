"""Judges' cards: one for each team's attempt at each workout."""

from collections.abc import Collection, Mapping

import msgspec

from callroom.model import Event, NotFound, State
from callroom.views.codes import CardRef, card_address, card_code
from callroom.views.line_ups import LineUpPlace, line_up_for
from callroom.views.masthead import Masthead, masthead, published
from callroom.views.timetable import CREW, HeatSlot, WorkoutTitle, heat_slot, workout_title
from callroom.views.work import PartWork, part_work


class Card(msgspec.Struct, frozen=True, kw_only=True):
    """What a judge needs for one team in one workout, and what the desk reads back.

    `heat` and `lane` are None for an attempt the plan has no heat for (a re-run to be
    fitted in); `address` is what the QR code says. It has the workout as it now stands,
    which is what `ref.amendment` counts.
    """

    ref: CardRef
    code: str
    address: str
    workout: WorkoutTitle
    team: str
    division: str
    line_up: tuple[LineUpPlace, ...]
    heat: HeatSlot | None
    lane: int | None
    floor: str
    judges: int
    parts: tuple[PartWork, ...]


class Cards(msgspec.Struct, frozen=True, kw_only=True):
    """Cards in the order they are used: by time, floor and lane."""

    masthead: Masthead
    cards: tuple[Card, ...]


def cards(state: State, heats: Collection[str] | None = None) -> Cards:
    """Return the cards of every team still in the event, or of the named `heats` only.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    event, plan = published(state)
    chosen = (heat for heat in plan.heats if heats is None or heat.id in heats)
    in_order = sorted(chosen, key=lambda heat: (heat.start_s, heat.floor, heat.id))
    refs = (
        CardRef(workout=heat.workout, team=place.team)
        for heat in in_order
        for place in sorted(heat.lanes, key=lambda place: place.lane)
        if place.team in state.teams and place.team not in state.team_status
    )
    work = _work_by_division(event)
    made = tuple(_card(state, event, ref, work) for ref in refs)
    return Cards(masthead=masthead(state), cards=made)


def card(state: State, ref: CardRef) -> Cards:
    """Return the one card of `ref`, also for a further attempt.

    Raises
    ------
    NotFound
        Without a published plan, or if the workout or the team is not in the book.
    """
    event, _ = published(state)
    team = state.teams.get(ref.team)
    if team is None:
        raise NotFound("team.unknown", team=ref.team)
    if all(workout.id != ref.workout for workout in event.workouts):
        raise NotFound("workout.unknown", workout=ref.workout)
    made = _card(state, event, ref, _work_by_division(event))
    return Cards(masthead=masthead(state), cards=(made,))


def _work_by_division(event: Event) -> dict[tuple[str, str], tuple[PartWork, ...]]:
    """Return every workout's parts by division and workout, worked out once for all teams."""
    return {
        (division.id, workout.id): tuple(part_work(part, division) for part in workout.parts)
        for division in event.divisions
        for workout in event.workouts
    }


def _card(
    state: State,
    event: Event,
    ref: CardRef,
    work: Mapping[tuple[str, str], tuple[PartWork, ...]],
) -> Card:
    _, plan = published(state)
    team = state.teams[ref.team]
    workout = event.workout(ref.workout)
    heat = plan.heat_of(ref.workout, ref.team) if ref.attempt == 1 else None
    number = state.amendment_number(ref.workout)
    ref = msgspec.structs.replace(ref, amendment=number)
    code = card_code(event.id, ref, rehearsal=state.rehearsal)
    return Card(
        ref=ref,
        code=code,
        address=card_address(event.address, code),
        workout=workout_title(event, workout, CREW),
        team=team.name,
        division=event.division(team.division).name,
        line_up=line_up_for(state, event, workout.id, team),
        heat=heat_slot(state, heat) if heat is not None else None,
        lane=heat.lane_of(ref.team) if heat is not None else None,
        floor=event.floor(workout.floor).name,
        judges=workout.judges_per_lane,
        parts=work[team.division, workout.id],
    )
