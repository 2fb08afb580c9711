"""Certificates as PDF: one landscape sheet for each team, its names as large as they fit."""

from datetime import datetime

from callroom.paper.phrases import LONGEST_CAUSE, LONGEST_NAME, frame, team_name
from callroom.paper.typesetting import PaperSize, Payload, name_text, typeset
from callroom.views import wording
from callroom.views.certificates import Certificate, Certificates
from callroom.views.work_wording import Speech

_MOST_NAMES = 12


def certificates_pdf(view: Certificates, *, size: PaperSize, at: datetime, speech: Speech) -> bytes:
    """Return the certificates, one a page; the same view gives the same bytes."""
    words = speech.words
    payload = {
        "frame": frame(view.masthead, words.gettext("Certificate"), words),
        "cause": wording.one_line(view.masthead.cause, LONGEST_CAUSE),
        "for_cause": words.gettext("A day for"),
        "signed": words.gettext("For the event"),
        "judged": words.gettext("Head judge"),
        "certificates": [_certificate(one, speech) for one in view.certificates],
    }
    return typeset("certificates", payload, size=size, at=at)


def _certificate(one: Certificate, speech: Speech) -> Payload:
    words = speech.words
    said = words.gettext("took part")
    if one.place is not None:
        place = wording.place(one.place, words)
        said = (
            words.gettext("{place} place, shared, of {teams} teams")
            if one.shared
            else words.gettext("{place} place of {teams} teams")
        ).format(place=place, teams=one.teams)
    return {
        "team": team_name(one.name, one.team),
        "division": name_text(wording.one_line(one.division, LONGEST_NAME), ""),
        "said": said,
        "number": str(one.place) if one.place is not None else "",
        "athletes": [wording.one_line(name, LONGEST_NAME) for name in one.athletes[:_MOST_NAMES]],
    }
