"""What a change of the running plan made stale on paper: these sheets and no others."""

import msgspec
from msgspec.structs import replace

from callroom.model import NotFound, State
from callroom.views.cards import Card, Cards, cards
from callroom.views.heat_sheet import HeatSheets, heat_sheets
from callroom.views.team_day import TeamDays, team_days
from callroom.views.timetable import Audience, Timetable, timetable

_AHEAD = frozenset({"waiting", "called"})


class PlanChange(msgspec.Struct, frozen=True, kw_only=True):
    """The sheets to print again since a revision, as they now have to be.

    `cards` and `heat_sheets` are those of heats still to come. A card is stale if its heat, its
    time or its lane is another. `timetable` is None where nothing in it changed.
    """

    revision: int
    why: str
    at_ms: int
    heat_sheets: HeatSheets
    cards: Cards
    team_days: TeamDays
    timetable: Timetable | None

    @property
    def empty(self) -> bool:
        """Whether nothing has to be printed again."""
        printed = (self.heat_sheets.sheets, self.cards.cards, self.team_days.days)
        return not any(printed) and self.timetable is None


def plan_change(state: State, revision: int, now_s: int | None = None) -> PlanChange:
    """Return what changed on paper since the plan before `revision` of a running plan.

    Parameters
    ----------
    now_s
        The time [s from the day's start]: what goes home with people shows what is released.

    Raises
    ------
    NotFound
        If no change of the running plan made that revision.
    """
    change = state.repairs.get(str(revision))
    if change is None:
        raise NotFound("plan.no_such_change", revision=revision)
    before = replace(state, plan=change.before)
    public = Audience(public=True, now_s=now_s)
    sheets, sheets_before = heat_sheets(state), heat_sheets(before)
    all_cards, cards_before = cards(state), cards(before)
    days, days_before = team_days(state, public), team_days(before, public)
    times = timetable(state, public)
    known_sheets = {sheet.heat.id: sheet for sheet in sheets_before.sheets}
    known_cards = {card.ref: _where(card) for card in cards_before.cards}
    known_days = {day.team: day for day in days_before.days}
    return PlanChange(
        revision=revision,
        why=change.why,
        at_ms=change.at_ms,
        heat_sheets=replace(
            sheets,
            sheets=tuple(
                sheet
                for sheet in sheets.sheets
                if sheet.heat.stage in _AHEAD and known_sheets.get(sheet.heat.id) != sheet
            ),
        ),
        cards=replace(
            all_cards,
            cards=tuple(
                card
                for card in all_cards.cards
                if card.heat is not None
                and card.heat.stage in _AHEAD
                and known_cards.get(card.ref) != _where(card)
            ),
        ),
        team_days=replace(
            days, days=tuple(day for day in days.days if known_days.get(day.team) != day)
        ),
        timetable=times if times.floors != timetable(before, public).floors else None,
    )


def _where(card: Card) -> tuple[object, ...]:
    """Return what of the plan stands on a card."""
    heat = card.heat
    return (card.lane, card.floor, heat and (heat.id, heat.number, heat.start_s))
