"""The checklists as PDF: a page for each time, with a box for each point."""

from collections.abc import Sequence
from datetime import datetime
from gettext import NullTranslations

from callroom.model.checks import PHASES
from callroom.paper.book_frame import book_frame
from callroom.paper.typesetting import PaperSize, typeset
from callroom.views.checklist import Check
from callroom.views.checklist_wording import PHASE_NAMES, check_text, post_text, why_text
from callroom.views.page_head import PageHead
from callroom.views.wording import one_line, short_day

_LONGEST = 240


def checklists_pdf(
    checks: Sequence[Check],
    head: PageHead,
    *,
    size: PaperSize,
    at: datetime,
    at_ms: int,
    words: NullTranslations,
) -> bytes:
    """Return the lists, those ticked with a cross in their box; the same arguments, the same bytes."""
    say = words.gettext
    payload = {
        "frame": book_frame(
            head,
            say("Checklists"),
            at_ms,
            words,
            practice=say("Practice run."),
            invented=say("Demo: every team and person is invented."),
        ),
        "decides": say(
            "A start, from common practice. Local authorities, the venue, your insurer and the "
            "medical lead decide."
        ),
        "phases": [
            {
                "title": say(PHASE_NAMES[phase]),
                "points": [
                    {
                        "done": check.tick is not None,
                        "text": one_line(check_text(check, words), _LONGEST),
                        "why": one_line(why_text(check, words), _LONGEST),
                        "post": one_line(post_text(check.post, words), _LONGEST),
                        "by": short_day(check.by, words) if phase in {"before", "after"} else "",
                    }
                    for check in checks
                    if check.phase == phase
                ],
            }
            for phase in PHASES
            if any(check.phase == phase for check in checks)
        ],
    }
    return typeset("checklists", payload, size=size, at=at)
