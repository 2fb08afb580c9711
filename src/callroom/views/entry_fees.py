"""Who has paid their entry: every team with what is asked and what is there."""

import msgspec

from callroom.funds import asked_of, payments
from callroom.model import State, Team
from callroom.model.money import Budget, BudgetLine
from callroom.views.money import team_sizes


class EntryFee(msgspec.Struct, frozen=True, kw_only=True):
    """A team's entry [minor units].

    Attributes
    ----------
    asked, paid
        What the budget's lines of entries ask of the team, and what is there of it.
    line
        The line to book it on; empty: the budget asks nothing of this division.
    out
        The team has left the event: what it paid waits to be refunded, moved, or made a gift.
    bookings
        The payments of which something is there, by their entries.
    """

    team: str
    name: str
    asked: int
    paid: int
    line: str
    out: bool
    bookings: tuple[int, ...]

    @property
    def missing(self) -> int:
        """What is still to be paid; nothing by a team that has left."""
        return 0 if self.out else max(self.asked - self.paid, 0)

    @property
    def to_settle(self) -> bool:
        """Whether a team has left whose money is still here."""
        return self.out and self.paid > 0


def entry_fees(state: State) -> tuple[EntryFee, ...]:
    """Return every team's entry, in the order of the teams."""
    budget = state.budget or Budget()
    lines = {line.id: line for line in budget.lines if line.sort == "entries"}
    sizes = team_sizes(state)
    held: dict[str, list[tuple[int, int]]] = {}
    for payment in payments(state.bookings.values()).values():
        if payment.line in lines and payment.team and payment.left:
            held.setdefault(payment.team, []).append((payment.seq, payment.left))
    return tuple(
        _fee(team, tuple(lines.values()), sizes.get(team.division, 0), held.get(team.id, []), state)
        for team in state.teams.values()
    )


def fee_of(state: State, division: str) -> int:
    """Return what the budget's lines of entries ask of one team of a division [minor units]."""
    return asked_of(state.budget or Budget(), division, team_sizes(state).get(division, 0))


def _fee(
    team: Team,
    lines: tuple[BudgetLine, ...],
    size: int,
    held: list[tuple[int, int]],
    state: State,
) -> EntryFee:
    asking = [line for line in lines if line.division in {"", team.division}]
    return EntryFee(
        team=team.id,
        name=team.name,
        asked=sum(line.per_team + line.per_head * size for line in asking),
        paid=sum(left for _, left in held),
        line=asking[0].id if asking else "",
        out=team.id in state.team_status,
        bookings=tuple(seq for seq, _ in held),
    )
