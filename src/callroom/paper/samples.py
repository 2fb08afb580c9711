"""A workout's card and standards while it is being built: as PDF to print, as SVG to look at."""

from datetime import datetime

from callroom.paper.cards import cards_payload
from callroom.paper.guides import standards_payload
from callroom.paper.typesetting import PaperSize, Payload, draw, typeset
from callroom.views.cards import Cards
from callroom.views.guide_text import GuideText
from callroom.views.masthead import Masthead
from callroom.views.work_wording import Speech

_NO_CODE = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"></svg>'


def sample_card_pdf(view: Cards, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return a card for any team of a division, marked as a sample."""
    return typeset("cards", _card(view, speech), size=size, at=at, pictures={"": _NO_CODE})


def sample_card_svg(view: Cards, *, size: PaperSize, speech: Speech) -> str:
    """Return the first page of that card as a picture."""
    return draw("cards", _card(view, speech), size=size, pictures={"": _NO_CODE})


def standards_pdf(
    text: GuideText, head: Masthead, *, size: PaperSize, at: datetime, speech: Speech
) -> bytes:
    """Return the standards sheet of a workout for one division, each standard with figures."""
    payload, pictures = standards_payload(text, head, speech)
    return typeset("standards", payload, size=size, at=at, pictures=pictures)


def standards_svg(text: GuideText, head: Masthead, *, size: PaperSize, speech: Speech) -> str:
    """Return the first page of that sheet as a picture."""
    payload, pictures = standards_payload(text, head, speech)
    return draw("standards", payload, size=size, pictures=pictures)


def _card(view: Cards, speech: Speech) -> Payload:
    laid = {"order": [0], "stacked": [], "to_a_sheet": 1}
    return {**cards_payload(view, speech, sample=True), **laid}
