"""A card for each role as PDF, one page each, to laminate or to pin where it is needed."""

from collections.abc import Sequence
from datetime import datetime

from callroom.paper.phrases import LONGEST_NAME, frame
from callroom.paper.qr import qr_svg
from callroom.paper.role_texts import asks, role_sections, role_title
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views.role_cards import CARD_ROLES, CardRole, RoleCards
from callroom.views.wording import one_line
from callroom.views.work_wording import Speech

_LONGEST_PLACE = 90
_LONGEST_ADDRESS = 60


def role_cards_pdf(
    view: RoleCards,
    *,
    size: PaperSize,
    at: datetime,
    speech: Speech,
    roles: Sequence[CardRole] = CARD_ROLES,
) -> bytes:
    """Return the cards, a page for each role whatever the names in it; the same bytes each time."""
    words = speech.words
    say = words.gettext
    payload = {
        "frame": frame(view.masthead, say("Cards of the roles"), words),
        "labels": {
            "ask": say("Whom to ask"),
            "join": say("Join with your phone"),
            "join_how": say("Scan this, type the code you were given. One code, one device, once."),
            "no_address": say("The director gives you a code to scan."),
            "duty": say(
                "A start, from common practice. The safety plan, local codes, your insurer and the "
                "medical lead decide."
            ),
        },
        "join": one_line(view.join, _LONGEST_ADDRESS),
        "help": _help(view, speech),
        "cards": [
            {
                "title": role_title(role, words),
                "sections": role_sections(role, words),
                "asks": [
                    {**one, "name": _names(str(one["who"]), view, speech)}
                    for one in asks(role, words)
                ],
            }
            for role in roles
        ],
    }
    pictures = {"join": qr_svg(view.join)} if view.join else {}
    return typeset("role_cards", payload, size=size, at=at, pictures=pictures)


def _help(view: RoleCards, speech: Speech) -> list[Payload]:
    """Return where help is; a line stays, to be written in, where the event does not say."""
    say = speech.words.gettext
    lines = (
        (say("Emergency"), view.emergency_number),
        (say("First aid"), view.first_aid_place),
        (say("Defibrillator"), view.aed_place),
    )
    return [
        {"label": label, "text": name_text(one_line(told, _LONGEST_PLACE), "")}
        for label, told in lines
    ]


def _names(who: str, view: RoleCards, speech: Speech) -> str:
    say = speech.words.gettext
    known = {say("Head judge"): view.heads, say("Floor manager"): view.managers}.get(who, ())
    return ", ".join(name_text(one_line(name, LONGEST_NAME), "") for name in known)
