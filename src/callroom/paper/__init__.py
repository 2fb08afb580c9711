"""Views drawn on paper.

Decides: what a card, sheet, board or certificate looks like (Typst to PDF).
Never does: derive a figure; each value comes ready from ``views``.
May import: ``views``, ``model``, typst, segno.
"""

from callroom.paper.addendum import addendum_pdf
from callroom.paper.cards import cards_pdf
from callroom.paper.certificates import certificates_pdf
from callroom.paper.checklists import checklists_pdf
from callroom.paper.floor_plan import floor_plan_pdf
from callroom.paper.guides import briefing_pdf, guide_pdf
from callroom.paper.heat_sheets import heat_sheets_pdf
from callroom.paper.kit_sheets import kit_sheets_pdf
from callroom.paper.lane_loads import lane_loads_pdf
from callroom.paper.lessons import lessons_pdf
from callroom.paper.pack import PACK, print_pack
from callroom.paper.plan_change import print_change
from callroom.paper.podium import podium_pdf
from callroom.paper.reprint import reprint
from callroom.paper.results_book import results_book_pdf
from callroom.paper.role_cards import role_cards_pdf
from callroom.paper.rota_sheets import person_days_pdf, rota_pdf
from callroom.paper.run_sheet import run_sheet_pdf
from callroom.paper.safety_sheets import safety_pdf
from callroom.paper.samples import (
    sample_card_pdf,
    sample_card_svg,
    standards_pdf,
    standards_svg,
)
from callroom.paper.team_days import team_days_pdf
from callroom.paper.timetables import floors_pdf, overview_pdf
from callroom.paper.typesetting import PaperFailed, PaperSize
from callroom.paper.wall import WallSize, wall_standings_pdf

__all__ = [
    "PACK",
    "PaperFailed",
    "PaperSize",
    "WallSize",
    "addendum_pdf",
    "briefing_pdf",
    "cards_pdf",
    "certificates_pdf",
    "checklists_pdf",
    "floor_plan_pdf",
    "floors_pdf",
    "guide_pdf",
    "heat_sheets_pdf",
    "kit_sheets_pdf",
    "lane_loads_pdf",
    "lessons_pdf",
    "overview_pdf",
    "person_days_pdf",
    "podium_pdf",
    "print_change",
    "print_pack",
    "reprint",
    "results_book_pdf",
    "role_cards_pdf",
    "rota_pdf",
    "run_sheet_pdf",
    "safety_pdf",
    "sample_card_pdf",
    "sample_card_svg",
    "standards_pdf",
    "standards_svg",
    "team_days_pdf",
    "wall_standings_pdf",
]
