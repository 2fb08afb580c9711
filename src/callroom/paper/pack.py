"""The print pack: every sheet of the day as files in a folder."""

from collections.abc import Collection
from pathlib import Path
from typing import Literal

from callroom.paper.addendum import addendum_pdf
from callroom.paper.cards import cards_pdf
from callroom.paper.guides import briefing_pdf, guide_pdf
from callroom.paper.heat_sheets import heat_sheets_pdf
from callroom.paper.role_cards import role_cards_pdf
from callroom.paper.rota_sheets import person_days_pdf, rota_pdf
from callroom.paper.team_days import team_days_pdf
from callroom.paper.timetables import floors_pdf, overview_pdf
from callroom.paper.typesetting import PaperSize
from callroom.views.guide_text import guide_text
from callroom.views.sheets import Sheets
from callroom.views.work_wording import Speech

PACK = (
    "day",
    "floors",
    "teams",
    "heat-sheets",
    "cards",
    "guide",
    "briefing",
    "addendum",
    "rota",
    "crew",
    "roles",
)


def print_pack(
    sheets: Sheets,
    out_dir: Path,
    *,
    size: PaperSize,
    speech: Speech,
    cards_to_a_sheet: Literal[1, 2] = 1,
    only: Collection[str] = PACK,
) -> tuple[Path, ...]:
    """Write the sheets as PDF files into `out_dir`, made if need be, and return the files.

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
    only
        The files to write, some of `PACK`; an addendum of nothing, and a rota that was not
        published, are never written.

    Raises
    ------
    PaperFailed
        If a sheet cannot be set. Then nothing has been written.
    """
    wanted = [name for name in PACK if name in only]
    if sheets.addendum.empty:
        wanted = [name for name in wanted if name != "addendum"]
    if sheets.rota is None:
        wanted = [name for name in wanted if name not in {"rota", "crew"}]
    made = {
        name: _drawn(name, sheets, size=size, speech=speech, to_a_sheet=cards_to_a_sheet)
        for name in wanted
    }
    out_dir.mkdir(parents=True, exist_ok=True)
    for name, pdf in made.items():
        (out_dir / f"{name}.pdf").write_bytes(pdf)
    return tuple(out_dir / f"{name}.pdf" for name in made)


def _drawn(
    name: str, sheets: Sheets, *, size: PaperSize, speech: Speech, to_a_sheet: Literal[1, 2]
) -> bytes:
    at, head = sheets.as_of, sheets.timetable.masthead
    match name:
        case "day":
            return overview_pdf(sheets.timetable, size=size, at=at, speech=speech)
        case "floors":
            return floors_pdf(sheets.timetable, size=size, at=at, speech=speech)
        case "teams":
            return team_days_pdf(sheets.team_days, size=size, at=at, speech=speech)
        case "heat-sheets":
            return heat_sheets_pdf(sheets.heat_sheets, size=size, at=at, speech=speech)
        case "cards":
            return cards_pdf(sheets.cards, size=size, at=at, speech=speech, to_a_sheet=to_a_sheet)
        case "guide":
            text = guide_text(sheets.guide, speech)
            return guide_pdf(text, head, size=size, at=at, speech=speech)
        case "briefing":
            text = guide_text(sheets.briefing, speech)
            return briefing_pdf(text, head, size=size, at=at, speech=speech)
        case "rota" | "crew" if sheets.rota is not None:
            make = rota_pdf if name == "rota" else person_days_pdf
            return make(sheets.rota, size=size, at=at, speech=speech)
        case "roles":
            return role_cards_pdf(sheets.roles, size=size, at=at, speech=speech)
        case _:
            return addendum_pdf(sheets.addendum, size=size, at=at, speech=speech)
