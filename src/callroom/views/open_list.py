"""What is still open before the day, in order of what hurts most if it is late.

The days before the event by which a thing should be settled are common practice, no source:
a start for a director who has not done it before, not a rule.
"""

from collections.abc import Iterator, Mapping
from datetime import date, timedelta

import msgspec

from callroom.model import Event, Fact, Finding, State
from callroom.model.movement import Movement
from callroom.model.person import Person
from callroom.views.checklist import Check, open_before
from callroom.views.teams_open import teams_open

STANDING_IN = "expected-"
"""How the ids of teams begin that stand in for teams to come."""


class OpenItem(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that is open.

    Attributes
    ----------
    says
        What is open, as a finding; None: a point of the checklists, `check`.
    path
        The page where it is mended.
    by
        The day by which it should be settled, counted back from the event's.
    late
        Whether that day is over.
    days
        How many days before the event that is.
    """

    says: Finding | None
    check: Check | None
    path: str
    by: date
    days: int
    late: bool


class _Draft(msgspec.Struct, frozen=True):
    """A thing before it is dated."""

    days: int
    rule: str
    path: str
    facts: Mapping[str, Fact] = {}


def open_list(
    state: State,
    event: Event,
    movements: Mapping[str, Movement],
    people: Mapping[str, Person],
    today: date,
) -> tuple[OpenItem, ...]:
    """Return everything open: the earliest due first, of one day the worst first.

    Parameters
    ----------
    movements
        The library's and the event's own, by id.
    people
        Everybody the book knows, by id; only counts of them come out.
    today
        The day at the venue.
    """
    drafts = [
        *_event(state, event),
        *_entering(state, event),
        *_plan(state),
        *_hands(state, event),
        *_teams(state, people),
    ]
    found = [_dated(draft, event, today) for draft in drafts]
    found += [_point(check, event, today) for check in open_before(state, event, movements)]
    return tuple(sorted(found, key=lambda one: one.by))


def most_urgent(items: tuple[OpenItem, ...], count: int = 3) -> tuple[OpenItem, ...]:
    """Return the first few, which the director's page shows on top."""
    return items[:count]


def _dated(draft: _Draft, event: Event, today: date) -> OpenItem:
    says = Finding(rule=draft.rule, severity="note", subject="event", facts=dict(draft.facts))
    by = event.day - timedelta(days=draft.days)
    return OpenItem(says=says, check=None, path=draft.path, by=by, days=draft.days, late=by < today)


def _point(check: Check, event: Event, today: date) -> OpenItem:
    return OpenItem(
        says=None,
        check=check,
        path="/director/checklists",
        by=check.by,
        days=(event.day - check.by).days,
        late=check.by < today,
    )


def _event(state: State, event: Event) -> Iterator[_Draft]:
    if not event.workouts:
        yield _Draft(56, "open.workouts", "/director/workouts")
    if not event.venue:
        yield _Draft(56, "open.venue", "/director/event/basics")
    if not event.cause:
        yield _Draft(56, "open.cause", "/director/event/basics")
    if state.budget is None:
        yield _Draft(56, "open.budget", "/director/money/budget")
    if not event.address:
        yield _Draft(7, "open.address", "/director/event/basics")


def _entering(state: State, event: Event) -> Iterator[_Draft]:
    real = [team for team in _in(state) if not team.startswith(STANDING_IN)]
    if state.entering.opens_ms is None and not real:
        yield _Draft(56, "open.entering", "/director/entering")
    terms = state.terms[-1] if state.terms else None
    if terms is None or not (terms.consent or terms.waiver):
        yield _Draft(56, "open.terms", "/director/entering")
    waiting = sum(one.status == "waiting" for one in state.enrolments.values())
    if waiting:
        yield _Draft(21, "open.waiting", "/director/teams", {"count": waiting})
    of_teams = {state.teams[team].division for team in real}
    empty = [one.name for one in event.divisions if one.id not in of_teams]
    if empty:
        yield _Draft(21, "open.divisions", "/director/teams", {"names": ", ".join(empty)})
    expected = sum(team.startswith(STANDING_IN) for team in _in(state))
    if expected:
        yield _Draft(14, "open.expected", "/director/event", {"count": expected})


def _plan(state: State) -> Iterator[_Draft]:
    if state.plan is None:
        yield _Draft(21, "open.plan", "/director/plan")
    elif state.rota is None:
        yield _Draft(14, "open.rota", "/director/rota")
    elif state.rota.plan_revision != state.plan.revision:
        yield _Draft(7, "open.rota_old", "/director/rota")


def _hands(state: State, event: Event) -> Iterator[_Draft]:
    posts = [post for member in state.crew.values() for post in member.posts]
    wanted, judges = judges_at_peak(state, event), posts.count("judge")
    if judges < wanted:
        facts = {"have": judges, "wanted": wanted, "short": wanted - judges}
        yield _Draft(28, "open.judges", "/director/load", facts)
    if "head_judge" not in posts:
        yield _Draft(28, "open.head_judge", "/director/load")
    if not state.kit:
        yield _Draft(28, "open.kit", "/director/load")
    roles = {one.role for one in state.devices.values() if one.revoked_seq is None}
    if "judge" not in roles:
        yield _Draft(1, "open.devices", "/director/devices")


def _teams(state: State, people: Mapping[str, Person]) -> Iterator[_Draft]:
    opened = [
        one
        for one in teams_open(state, people)
        if not one.waiting and not one.team.startswith(STANDING_IN)
    ]
    places = sum(one.places_open for one in opened)
    consents = sum(one.consents_missing for one in opened)
    owing = sum(one.owed > 0 for one in opened)
    guardians = sum(one.guardians_missing for one in opened)
    for days, rule, count in (
        (14, "open.guardians", guardians),
        (14, "open.places", places),
        (7, "open.consents", consents),
        (7, "open.owing", owing),
    ):
        if count:
            yield _Draft(days, rule, "/director/teams", {"count": count})


def _in(state: State) -> tuple[str, ...]:
    return tuple(team for team in state.teams if team not in state.team_status)


def judges_at_peak(state: State, event: Event) -> int:
    """Return how many judges are needed at once: in the plan, else with every open lane in use."""
    per_lane = {one.id: one.judges_per_lane for one in event.workouts}
    if state.plan is None or not state.plan.heats:
        most = max(per_lane.values(), default=1)
        return most * sum(len(floor.open_lanes) for floor in event.floors)
    heats = state.plan.heats
    return max(
        sum(
            len(one.lanes) * per_lane.get(one.workout, 1)
            for one in heats
            if one.start_s <= at.start_s < one.end_s
        )
        for at in heats
    )
