"""What a change of the running plan made stale, printed anew."""

from datetime import datetime

from callroom.paper.cards import cards_pdf
from callroom.paper.heat_sheets import heat_sheets_pdf
from callroom.paper.team_days import team_days_pdf
from callroom.paper.timetables import floors_pdf, overview_pdf
from callroom.paper.typesetting import PaperSize
from callroom.views.plan_change import PlanChange
from callroom.views.work_wording import Speech


def print_change(
    view: PlanChange, *, size: PaperSize, at: datetime, speech: Speech
) -> dict[str, bytes]:
    """Return the sheets to print again as PDF, by the file names of the print pack."""
    made: dict[str, bytes] = {}
    if view.cards.cards:
        made["cards.pdf"] = cards_pdf(view.cards, size=size, at=at, speech=speech)
    if view.heat_sheets.sheets:
        made["heat-sheets.pdf"] = heat_sheets_pdf(view.heat_sheets, size=size, at=at, speech=speech)
    if view.team_days.days:
        made["teams.pdf"] = team_days_pdf(view.team_days, size=size, at=at, speech=speech)
    if view.timetable is not None:
        made["day.pdf"] = overview_pdf(view.timetable, size=size, at=at, speech=speech)
        made["floors.pdf"] = floors_pdf(view.timetable, size=size, at=at, speech=speech)
    return made
