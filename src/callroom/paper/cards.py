"""Judges' cards as PDF: a full sheet each, or two to a sheet to be cut."""

from datetime import datetime
from gettext import NullTranslations

from callroom.paper.card_parts import part_payload
from callroom.paper.phrases import frame, heat_times, team_name, workout_name
from callroom.paper.qr import qr_svg
from callroom.paper.typesetting import PaperSize, Payload, typeset
from callroom.views import wording
from callroom.views.cards import Card, Cards
from callroom.views.codes import spaced
from callroom.views.line_ups import place_said
from callroom.views.masthead import Masthead
from callroom.views.work_wording import Speech

# Characters that fit beside the tiles of a card for half a sheet.
_LONGEST_LINE = 64
# … and beside the code at its foot.
_SHORT_NAME = 24


def cards_pdf(
    view: Cards,
    *,
    size: PaperSize,
    at: datetime,
    speech: Speech,
    to_a_sheet: int = 1,
) -> bytes:
    """Return all cards of `view` in one PDF.

    With two `to_a_sheet` the cards are laid so that, once the pile is cut down the middle
    and its left half put on its right half, they lie in the order of `view`. If a card is
    too long for half a sheet, all take whole ones.
    """
    count = len(view.cards)
    laid = {"order": list(range(count)), "stacked": stacked(count), "to_a_sheet": to_a_sheet}
    return typeset(
        "cards",
        {**cards_payload(view, speech), **laid},
        size=size,
        at=at,
        pictures={card.code: qr_svg(card.address) for card in view.cards},
    )


def stacked(count: int) -> list[int | None]:
    """Return which card goes where, left and right in turn, so that one cut keeps the order.

    >>> stacked(5)
    [0, 3, 1, 4, 2, None]
    """
    half = -(-count // 2)
    pairs = ((left, left + half if left + half < count else None) for left in range(half))
    return [place for pair in pairs for place in pair]


def cards_payload(view: Cards, speech: Speech, *, sample: bool = False) -> dict[str, object]:
    """Return what the template draws; a `sample` has a band that says so."""
    words = speech.words
    head = frame(view.masthead, words.gettext("Judges' cards"), words)
    works = tuple(dict.fromkeys(card.parts for card in view.cards))
    layout_of = {parts: number for number, parts in enumerate(works)}
    listed = [
        {**_card(card, view.masthead, speech), "layout": layout_of[card.parts]}
        for card in view.cards
    ]
    return {
        "frame": head | _sample_marks(words) if sample else head,
        "labels": _labels(words),
        "layouts": [
            {
                "parts": [part_payload(part, speech, several=len(parts) > 1) for part in parts],
                "sample": _fullest(listed, number),
            }
            for parts, number in layout_of.items()
        ],
        "cards": listed,
    }


def _sample_marks(words: NullTranslations) -> dict[str, object]:
    """Return the band of a rehearsal for a sample: it is known in black and white too."""
    return {
        "revision": words.gettext("Sample"),
        "rehearsal": words.gettext("SAMPLE"),
        "rehearsal_note": words.gettext("To look at and to practise with. Nothing on it counts."),
    }


def _fullest(listed: list[dict[str, object]], layout: int) -> int:
    """Return which card of a layout has most to say beside its work."""
    length = {
        index: len(f"{card['where']}{card['line_up']}{card['times']}")
        for index, card in enumerate(listed)
        if card["layout"] == layout
    }
    return max(length, key=length.__getitem__)


def _labels(words: NullTranslations) -> Payload:
    return {
        "lane": words.gettext("Lane"),
        "heat": words.gettext("Heat"),
        "code": words.gettext("Card code"),
        "qr": words.gettext("QR code that opens the entry form of this card"),
        "do": words.gettext("Do"),
        "movement": words.gettext("Movement"),
        "no_reps": words.gettext("No-reps (tally)"),
        "total": words.gettext("Total"),
        "round": words.gettext("Round"),
        "split": words.gettext("Split"),
        "lift": words.gettext("Lift"),
        "attempt": words.gettext("Attempt"),
        "load": words.gettext("Load"),
        "good": words.gettext("Good"),
        "no_lift": words.gettext("No"),
        "result": words.gettext("Result"),
        "rounds": words.gettext("full rounds"),
        "plus": words.gettext("more"),
    }


def _signatures(judges: int, words: NullTranslations) -> list[str]:
    one = [words.gettext("Judge: name and signature")]
    several = [
        words.gettext("Judge {number}: name and signature").format(number=number)
        for number in range(1, judges + 1)
    ]
    captain = words.gettext("Captain: signs for the count, not for the place")
    return [*(several if judges > 1 else one), captain]


def _card(card: Card, head: Masthead, speech: Speech) -> Payload:
    words = speech.words
    heat = card.heat
    line_up = (place_said(place) for place in card.line_up)
    team = team_name(card.team, card.ref.team) or words.gettext("Any team")
    again = words.gettext("Attempt {number}").format(number=card.ref.attempt)
    amended = words.gettext("Amendment {number}").format(number=card.ref.amendment)
    where = (
        amended if card.ref.amendment else "",
        again if card.ref.attempt > 1 else "",
        card.division,
        card.floor,
    )
    return {
        "lane": str(card.lane) if card.lane is not None else "",
        "heat": str(heat.number) if heat is not None else "",
        "workout": workout_name(card.workout, words),
        "team": team,
        "short": wording.one_line(team, _SHORT_NAME),
        "where": wording.one_line(wording.joined_by_dots(where), _LONGEST_LINE),
        "line_up": wording.one_line(wording.joined_by_dots(line_up), _LONGEST_LINE),
        "times": heat_times(heat, head, words) if heat is not None else [],
        "code": card.code,
        "spaced": spaced(card.code) if card.code else "",
        "signatures": _signatures(card.judges, words),
    }
