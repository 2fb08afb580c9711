"""The podium of a division: who stands on it, whether that is certain, what is awaited."""

from collections.abc import Mapping

import msgspec

from callroom.model import Division, Event, NotFound, Part, State
from callroom.model.podium import PodiumRelease
from callroom.scoring import (
    OnPodium,
    OpenScore,
    PodiumGate,
    Reason,
    Score,
    called,
    overall_reasons,
    podium_gate,
    points_text,
)
from callroom.scoring.open_scores import Why
from callroom.views.page_head import PageHead, page_head
from callroom.views.standings import last_change, part_name
from callroom.views.timetable import CREW, WorkoutTitle, workout_title


class PodiumResult(msgspec.Struct, frozen=True, kw_only=True):
    """What a team did in one part, and its place there (None: none)."""

    workout: WorkoutTitle
    part_name: str
    part: Part
    score: Score
    place: int | None


class PodiumTeam(msgspec.Struct, frozen=True, kw_only=True):
    """A team among the first three: its name and how to say it, points, why, and its results."""

    place: OnPodium
    name: str
    say_it: str
    gym: str
    points: str
    reasons: tuple[Reason, ...]
    results: tuple[PodiumResult, ...]


class AwaitedHeat(msgspec.Struct, frozen=True, kw_only=True):
    """The open scores of one heat for the same reasons; `heat` is empty without a plan for them."""

    workout: WorkoutTitle
    part_name: str
    heat: str
    number: int
    why: tuple[Why, ...]
    teams: tuple[tuple[str, str], ...]
    scores: tuple[OpenScore, ...]


class Podium(msgspec.Struct, frozen=True, kw_only=True):
    """The podium of a division.

    Attributes
    ----------
    teams
        The first three as things stand, the best first; what is missing counts as no place.
        Nobody before the first result.
    certain
        Nothing that is open can change them.
    release
        The decision to present them all the same, while it holds: nothing has changed since.
    lapsed
        The decision that does not hold any more.
    awaited, idle
        Open scores that can change the first three, and those that cannot, by heat.
    appeals
        Open appeals against the standings as a whole.
    challengers
        Names of teams that can still come among the first three.
    appeals_until_ms
        When the time for appeals is over [ms, UTC]; None: the standings were never posted.
    basis
        The subjects that letting the podium out rests on, with their last entry.
    at_ms
        As of when [ms, UTC].
    """

    head: PageHead
    division: Division
    teams: tuple[PodiumTeam, ...]
    certain: bool
    fewest_best: bool
    release: PodiumRelease | None
    lapsed: PodiumRelease | None
    awaited: tuple[AwaitedHeat, ...]
    idle: tuple[AwaitedHeat, ...]
    appeals: tuple[int, ...]
    challengers: tuple[str, ...]
    appeals_until_ms: int | None
    basis: Mapping[str, int]
    at_ms: int

    @property
    def printable(self) -> bool:
        """Whether the presenter's sheet may be printed."""
        return bool(self.teams) and (self.certain or self.release is not None)

    @property
    def open_count(self) -> int:
        """How many scores are awaited that can change the first three."""
        return sum(len(heat.scores) for heat in self.awaited)


def podium(state: State, division_id: str) -> Podium:
    """Return the podium of a division; NotFound without an event or such a division."""
    if state.event is None:
        raise NotFound("book.no_event")
    event = state.event
    gate = podium_gate(state, division_id)
    division = event.division(division_id)
    begun = any(place is not None for row in gate.standings.rows for place in row.places)
    release = state.podiums.get(division_id)
    changed = release is not None and _last_touched(state, division_id) > release.seq
    posting = state.postings.get(division_id)
    window_s = event.rules.appeal_window_s
    return Podium(
        head=page_head(state),
        division=division,
        teams=tuple(_team(state, event, gate, one) for one in gate.podium if begun),
        certain=gate.certain and begun,
        fewest_best=gate.standings.fewest_best,
        release=None if changed else release,
        lapsed=release if changed else None,
        awaited=_by_heat(state, event, gate.awaited),
        idle=_by_heat(state, event, gate.idle),
        appeals=gate.appeals,
        challengers=tuple(state.teams[team].name for team in gate.challengers),
        appeals_until_ms=posting.appeals_until_ms(window_s) if posting is not None else None,
        basis=_basis(state, division_id, gate),
        at_ms=state.at_ms,
    )


def _last_touched(state: State, division_id: str) -> int:
    """Return the last entry about the division's scores, its teams or their appeals."""
    appeals = (
        state.subjects.get(f"appeal:{appeal.number}", 0)
        for appeal in state.appeals.values()
        if state.teams[appeal.team].division == division_id
    )
    return max(last_change(state, division_id), *appeals, 0)


def _basis(state: State, division_id: str, gate: PodiumGate) -> Mapping[str, int]:
    """Return what whoever lets the podium out has seen: the scores that are open, as they are."""
    names = [f"podium:{division_id}"] + [
        f"sheet:{score.workout}/{score.part}/{score.team}/1" for score in gate.awaited
    ]
    return {name: state.subjects.get(name, 0) for name in names}


def _team(state: State, event: Event, gate: PodiumGate, one: OnPodium) -> PodiumTeam:
    team = state.teams[one.team]
    standings = gate.standings
    reasons = overall_reasons(standings, one.team, called(state))
    results = []
    for workout in event.workouts:
        for number, part in enumerate(workout.parts, start=1):
            row = standings.part(workout.id, part.id).row(one.team)
            results.append(
                PodiumResult(
                    workout=workout_title(event, workout, CREW),
                    part_name=part_name(workout, number, CREW),
                    part=part,
                    score=row.score,
                    place=row.place,
                )
            )
    return PodiumTeam(
        place=one,
        name=team.name,
        say_it=team.say_it,
        gym=team.gym,
        points=points_text(standings.row(one.team).points),
        reasons=tuple(reason for reason in reasons if reason.rule != "overall.place"),
        results=tuple(results),
    )


def _by_heat(state: State, event: Event, scores: tuple[OpenScore, ...]) -> tuple[AwaitedHeat, ...]:
    """Put open scores of one heat that are open for the same reasons together."""
    together: dict[tuple[str, str, str, tuple[Why, ...]], list[OpenScore]] = {}
    for score in scores:
        heat = state.plan.heat_of(score.workout, score.team) if state.plan is not None else None
        mark = (score.workout, score.part, heat.id if heat is not None else "", score.why)
        together.setdefault(mark, []).append(score)
    found = []
    for (workout_id, part_id, heat_id, why), alike in together.items():
        workout = event.workout(workout_id)
        number = workout.parts.index(workout.part(part_id)) + 1
        planned = state.plan.heat(heat_id) if state.plan is not None and heat_id else None
        found.append(
            AwaitedHeat(
                workout=workout_title(event, workout, CREW),
                part_name=part_name(workout, number, CREW),
                heat=heat_id,
                number=planned.number if planned is not None else 0,
                why=why,
                teams=tuple((score.team, state.teams[score.team].name) for score in alike),
                scores=tuple(alike),
            )
        )
    return tuple(found)
