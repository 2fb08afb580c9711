"""The safety plan as PDF: the whole of it, then a page for each post to hang where it stands."""

from datetime import datetime
from gettext import NullTranslations

from callroom.paper.book_frame import book_frame
from callroom.paper.typesetting import PaperSize, Payload, typeset
from callroom.views.page_head import PageHead
from callroom.views.safety_plan import POSTS, SafetyPlan, for_post
from callroom.views.safety_wording import POST_NAMES, SECTIONS, point_text


def safety_pdf(
    plan: SafetyPlan,
    head: PageHead,
    *,
    size: PaperSize,
    at: datetime,
    at_ms: int,
    words: NullTranslations,
) -> bytes:
    """Return the plan; the same arguments give the same bytes.

    Open points stand on the lead's pages with a box to tick; on a post's page stands only what
    is settled and holds there.
    """
    say = words.gettext
    payload = {
        "frame": book_frame(
            head,
            say("Safety plan"),
            at_ms,
            words,
            practice=say("Practice run."),
            invented=say("Demo: every team and person is invented."),
        ),
        "lead": _sheet(plan, say("Safety plan"), words),
        "open_title": say("Still to be settled"),
        "open": [point_text(point, words) for point in plan.open_points],
        "posts": [
            _sheet(for_post(plan, post), say(POST_NAMES[post]), words)
            for post in POSTS
            if post != "lead"
        ],
        "call_title": say("Emergency"),
        "signed": say("Read by – name, time"),
    }
    return typeset("safety", payload, size=size, at=at)


def _sheet(plan: SafetyPlan, title: str, words: NullTranslations) -> Payload:
    settled = [
        (section, [point for point in section.points if point.severity == "note"])
        for section in plan.sections
    ]
    return {
        "title": title,
        "call": next(
            (
                point_text(point, words)
                for _, points in settled
                for point in points
                if point.rule == "safety.call"
            ),
            "",
        ),
        "sections": [
            {
                "title": words.gettext(SECTIONS[section.id]),
                "points": [
                    point_text(point, words) for point in points if point.rule != "safety.call"
                ],
            }
            for section, points in settled
            if points
        ],
    }
