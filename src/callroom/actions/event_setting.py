"""Setting the event, and the teams that are expected before they have entered, as requests."""

from collections.abc import Callable, Mapping

from callroom.actions.load import load
from callroom.actions.request import Asked, Request, propose
from callroom.journal.entries import bodies
from callroom.model import Event, Refusal, State, Team

EXPECTED = "expected-"
"""How the ids of expected teams begin: they stand in for teams to come, so that a plan can be
tried. Nobody who enters gets such an id."""

MOST_EXPECTED = 400


def set_event(state: State, event: Event, basis: int) -> Request:
    """Return the request that sets the event, with the checks that loading its file has.

    Parameters
    ----------
    basis
        The `seq` of the event that the director looked at: if the event has changed since,
        the request is refused as stale.

    Raises
    ------
    BadInput
        With every fault of the event, and of the teams that it would no longer fit.
    """
    asked = load(state, event=event)
    return propose(*asked.proposals, basis={"event": basis})


def begin_event(
    state: State, event: Event, expected: Mapping[str, int], name: Callable[[int], str]
) -> Request:
    """Return the request that sets a book's first event, with its expected teams.

    Raises
    ------
    Refusal
        If the book has an event already.
    """
    if state.event is not None:
        raise Refusal("event.set_already", known=state.event.name)
    return load(state, event=event, teams=tuple(_new(state, expected, name)))


def expected_teams(state: State) -> Mapping[str, tuple[str, ...]]:
    """Return the expected teams that still stand in for others, by division."""
    found: dict[str, list[str]] = {}
    for team in state.teams.values():
        if team.id.startswith(EXPECTED) and team.id not in state.team_status:
            found.setdefault(team.division, []).append(team.id)
    return {division: tuple(teams) for division, teams in found.items()}


def expect_teams(state: State, wanted: Mapping[str, int], name: Callable[[int], str]) -> Request:
    """Return the request after which as many expected teams stand in as are `wanted`.

    Those too many leave, the last first; of those that left, some come back before new ones
    are made.

    Parameters
    ----------
    wanted
        How many, by division; a division that is not in it stays as it is.
    name
        What the expected team with a number is called.
    """
    now = expected_teams(state)
    asked: list[Asked] = []
    more: dict[str, int] = {}
    for division, count in wanted.items():
        have = now.get(division, ())
        asked += [bodies.TeamLeft(team=team, status="withdrawn") for team in have[count:]]
        back = _gone(state, division)[: max(count - len(have), 0)]
        asked += [
            bodies.TeamBack(
                team=team, left_seq=state.team_status[team].since_seq, reason="expected"
            )
            for team in back
        ]
        more[division] = count - len(have) - len(back)
    asked += [bodies.TeamSet(team=team) for team in _new(state, more, name)]
    return propose(*asked)


def _gone(state: State, division: str) -> list[str]:
    return [
        team
        for team in state.team_status
        if team.startswith(EXPECTED) and state.teams[team].division == division
    ]


def _new(state: State, counts: Mapping[str, int], name: Callable[[int], str]) -> list[Team]:
    made: list[Team] = []
    number = sum(team.startswith(EXPECTED) for team in state.teams)
    for division, count in counts.items():
        for _ in range(count):
            number += 1
            made.append(Team(id=f"{EXPECTED}{number}", name=name(number), division=division))
    return made
