"""The print pack: every sheet of the day as files in a folder."""

from pathlib import Path
from typing import Literal

from callroom.paper.addendum import addendum_pdf
from callroom.paper.cards import cards_pdf
from callroom.paper.guides import briefing_pdf, guide_pdf
from callroom.paper.heat_sheets import heat_sheets_pdf
from callroom.paper.team_days import team_days_pdf
from callroom.paper.timetables import floors_pdf, overview_pdf
from callroom.paper.typesetting import PaperSize
from callroom.views.guide_text import guide_text
from callroom.views.sheets import Sheets
from callroom.views.work_wording import Speech


def print_pack(
    sheets: Sheets,
    out_dir: Path,
    *,
    size: PaperSize,
    speech: Speech,
    cards_to_a_sheet: Literal[1, 2] = 1,
) -> tuple[Path, ...]:
    """Write all sheets as PDF files into `out_dir`, made if need be, and return the files.

    Files of an earlier pack are replaced; nothing else in the folder is touched.

    Parameters
    ----------
    sheets
        What to print.
    out_dir
        Where to.
    size
        ``"a4"`` or ``"us-letter"``.
    speech
        The categories, movements, unit of mass and language to write with.
    cards_to_a_sheet
        1: a full sheet for each card; 2: half a sheet, to be cut.

    Raises
    ------
    PaperFailed
        If a sheet cannot be set. Then nothing has been written.
    """
    at, head = sheets.as_of, sheets.timetable.masthead
    guide, briefing = guide_text(sheets.guide, speech), guide_text(sheets.briefing, speech)
    made = {
        "day.pdf": overview_pdf(sheets.timetable, size=size, at=at, speech=speech),
        "floors.pdf": floors_pdf(sheets.timetable, size=size, at=at, speech=speech),
        "teams.pdf": team_days_pdf(sheets.team_days, size=size, at=at, speech=speech),
        "heat-sheets.pdf": heat_sheets_pdf(sheets.heat_sheets, size=size, at=at, speech=speech),
        "cards.pdf": cards_pdf(
            sheets.cards, size=size, at=at, speech=speech, to_a_sheet=cards_to_a_sheet
        ),
        "guide.pdf": guide_pdf(guide, head, size=size, at=at, speech=speech),
        "briefing.pdf": briefing_pdf(briefing, head, size=size, at=at, speech=speech),
    }
    if not sheets.addendum.empty:
        made["addendum.pdf"] = addendum_pdf(sheets.addendum, size=size, at=at, speech=speech)
    out_dir.mkdir(parents=True, exist_ok=True)
    for name, pdf in made.items():
        (out_dir / name).write_bytes(pdf)
    return tuple(out_dir / name for name in made)
