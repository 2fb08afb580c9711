"""Everything that is printed for a day, as one value."""

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType

import msgspec

from callroom.model import Finding, State, from_milliseconds
from callroom.model.person import Person
from callroom.views.addendum import Addendum, addendum
from callroom.views.cards import Cards, cards
from callroom.views.codes import card_code, cards_in, spaced
from callroom.views.guide import Guide, guide
from callroom.views.heat_sheet import HeatSheets, heat_sheets
from callroom.views.role_cards import RoleCards, role_cards
from callroom.views.rota_day import RotaDay, rota_day
from callroom.views.team_day import TeamDays, team_days
from callroom.views.timetable import CREW, Audience, Timetable, timetable

NOBODY: Mapping[str, Person] = MappingProxyType({})


class Sheets(msgspec.Struct, frozen=True, kw_only=True):
    """The print pack of a published plan.

    Heat sheets, cards, the `briefing`, the addendum and the `roles` are for the crew; the
    timetable, the team days and the `guide` hang on walls and go home with people, so they show
    what the public may see. `as_of` is when the last entry was made (UTC): the same book prints the
    same bytes.
    """

    as_of: datetime
    timetable: Timetable
    heat_sheets: HeatSheets
    cards: Cards
    team_days: TeamDays
    guide: Guide
    briefing: Guide
    addendum: Addendum
    rota: RotaDay | None
    roles: RoleCards


def sheets(state: State, now_s: int | None = None, people: Mapping[str, Person] = NOBODY) -> Sheets:
    """Return the print pack, public sheets as released by `now_s` [s from the day's start].

    The rota is there once it was published; it and the `roles` name those of the crew whom
    `people` names.

    Raises
    ------
    NotFound
        Without an event or a published plan.
    """
    public = Audience(public=True, now_s=now_s)
    return Sheets(
        as_of=from_milliseconds(state.at_ms),
        timetable=timetable(state, public),
        heat_sheets=heat_sheets(state),
        cards=cards(state),
        team_days=team_days(state, public),
        guide=guide(state, public),
        briefing=guide(state, CREW),
        addendum=addendum(state),
        rota=rota_day(state, state.rota, people) if state.rota is not None else None,
        roles=role_cards(state, people),
    )


def print_findings(state: State) -> tuple[Finding, ...]:
    """Return what a director should know before printing cards.

    Rules: ``print.no_address`` (the QR codes hold bare codes), ``print.code_shared`` (two
    cards have one code; facts `code`, `cards`).
    """
    if state.event is None:
        return ()
    found = []
    if not state.event.address:
        found.append(Finding(rule="print.no_address", severity="warning", subject="event.address"))
    by_code: dict[str, list[str]] = {}
    for ref in cards_in(state):
        code = card_code(state.event.id, ref, rehearsal=state.rehearsal)
        by_code.setdefault(code, []).append(f"{ref.team}/{ref.workout}")
    found.extend(
        Finding(
            rule="print.code_shared",
            severity="warning",
            subject=f"card.{code}",
            facts={"code": spaced(code), "cards": ", ".join(sharing)},
        )
        for code, sharing in by_code.items()
        if len(sharing) > 1
    )
    return tuple(found)
