"""The check-in: who has come, what each team still has to do, found by a part of its name."""

import unicodedata
from collections.abc import Mapping
from typing import NamedTuple

import msgspec

from callroom.model import Event, State, Team
from callroom.model.check_in import CheckIn, Signed
from callroom.model.person import Person
from callroom.views.entry_fees import entry_fees
from callroom.views.teams_open import AthleteOpen, TeamOpen, team_open, teams_open


class FirstHeat(msgspec.Struct, frozen=True, kw_only=True):
    """Where a team begins its day: report and start [s from the day's start], floor, lane."""

    report_s: int
    start_s: int
    floor: str
    lane: int
    number: int


class AthleteIn(msgspec.Struct, frozen=True, kw_only=True):
    """One athlete at the check-in: what is open, whether they are here, what they signed."""

    open: AthleteOpen
    category: str
    here: bool
    signed: Signed | None


class TeamIn(msgspec.Struct, frozen=True, kw_only=True):
    """One team at the check-in.

    `first` is None where the plan has no heat for it; `out`: it has left the event. `fee_line`
    is the line of the budget its fee is booked on; empty: the budget asks nothing of it.
    """

    open: TeamOpen
    division: str
    first: FirstHeat | None
    athletes: tuple[AthleteIn, ...]
    pack: bool
    out: bool
    fee_line: str = ""

    @property
    def missing(self) -> tuple[str, ...]:
        """The people of the squad who are not here yet, by id."""
        return tuple(one.open.person for one in self.athletes if not one.here)

    @property
    def to_see_to(self) -> bool:
        """Whether something must be signed or paid before everybody may start."""
        return bool(self.open.consents_missing or self.open.guardians_missing or self.open.owed)

    @property
    def done(self) -> bool:
        """Whether all are here, the pack is given, and nothing must be signed or paid."""
        return self.pack and not self.missing and not self.to_see_to


class CheckInDesk(msgspec.Struct, frozen=True, kw_only=True):
    """All teams in the order of their first heats; how many athletes and teams are through."""

    teams: tuple[TeamIn, ...]
    athletes: int
    here: int
    through: int


class _Planned(NamedTuple):
    """The event, where each team begins its day, and the line each fee is booked on."""

    event: Event
    first: Mapping[str, FirstHeat]
    lines: Mapping[str, str]


def check_in_desk(state: State, people: Mapping[str, Person]) -> CheckInDesk:
    """Return the check-in of every team that is in the event.

    Parameters
    ----------
    people
        Everybody the book knows, by id. Nobody's name comes out, only what is open about them.
    """
    event = state.event
    if event is None:
        return CheckInDesk(teams=(), athletes=0, here=0, through=0)
    lines = {fee.team: fee.line for fee in entry_fees(state)}
    planned = _Planned(event, _first_heats(state, event), lines)
    teams = [
        _team_in(state, planned, state.teams[one.team], one)
        for one in teams_open(state, people)
        if not one.waiting
    ]
    teams.sort(key=lambda one: (one.first is None, one.first.start_s if one.first else 0))
    return CheckInDesk(
        teams=tuple(teams),
        athletes=sum(len(one.athletes) for one in teams),
        here=sum(len(one.athletes) - len(one.missing) for one in teams),
        through=sum(one.done for one in teams),
    )


def check_in_of(state: State, people: Mapping[str, Person], team: Team) -> TeamIn | None:
    """Return the check-in of one team that is or was in the event; None without an event."""
    event = state.event
    if event is None:
        return None
    fee = next((one for one in entry_fees(state) if one.team == team.id), None)
    opened = team_open(state, people, team, fee)
    lines = {team.id: fee.line if fee is not None else ""}
    return _team_in(state, _Planned(event, _first_heats(state, event), lines), team, opened)


def found_by_name(desk: CheckInDesk, typed: str) -> tuple[TeamIn, ...]:
    """Return the teams with every typed word in their name, or of that id; case and accents aside.

    One whose name begins with what was typed comes before those that only hold it.
    """
    words = plain(typed).split()
    if not words:
        return ()
    exact = tuple(one for one in desk.teams if plain(one.open.team) == plain(typed).strip())
    if exact:
        return exact
    found = [one for one in desk.teams if all(word in plain(one.open.name) for word in words)]
    return tuple(sorted(found, key=lambda one: not plain(one.open.name).startswith(words[0])))


def plain(text: str) -> str:
    """Return a text without case and accents, as people type names."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    return "".join(one for one in parts if not unicodedata.combining(one))


def _first_heats(state: State, event: Event) -> Mapping[str, FirstHeat]:
    heats = state.plan.heats if state.plan is not None else ()
    found: dict[str, FirstHeat] = {}
    for heat in sorted(heats, key=lambda one: (one.start_s, one.id)):
        for place in heat.lanes:
            if place.team not in found:
                ahead_s = event.report_ahead_s(event.workout(heat.workout))
                found[place.team] = FirstHeat(
                    report_s=heat.start_s - ahead_s,
                    start_s=heat.start_s,
                    floor=event.floor(heat.floor).name,
                    lane=place.lane,
                    number=heat.number,
                )
    return found


def _team_in(
    state: State,
    planned: _Planned,
    team: Team,
    opened: TeamOpen,
) -> TeamIn:
    noted = state.check_ins.get(team.id, CheckIn())
    categories = {one.id: one.name for one in planned.event.categories}
    return TeamIn(
        open=opened,
        division=planned.event.division(team.division).name,
        first=planned.first.get(team.id),
        athletes=tuple(
            AthleteIn(
                open=one,
                category=categories.get(one.category, one.category),
                here=one.person in noted.here,
                signed=state.signed.get(one.person),
            )
            for one in opened.athletes
        ),
        pack=noted.pack_seq is not None,
        out=team.id in state.team_status,
        fee_line=planned.lines.get(team.id, ""),
    )
