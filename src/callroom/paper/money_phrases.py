"""What every sheet about money says alike, also before there is a plan."""

from gettext import NullTranslations

from callroom.model import from_milliseconds, wall_time
from callroom.paper.phrases import LONGEST_NAME
from callroom.paper.typesetting import name_text
from callroom.views import wording
from callroom.views.page_head import PageHead


def money_frame(
    head: PageHead, title: str, at_ms: int, words: NullTranslations
) -> dict[str, object]:
    """Return what stands at the head and foot of every page, as of `at_ms` [ms, UTC]."""
    at = wall_time(from_milliseconds(at_ms), head.zone)
    as_of = words.gettext("As of {day} {time}").format(
        day=at.date().isoformat(), time=f"{at:%H:%M}"
    )
    practice = words.gettext("Practice run. No real money is on this sheet.")
    return {
        "title": title,
        "language": head.language,
        "event": name_text(wording.one_line(head.event, LONGEST_NAME), ""),
        "venue": name_text(wording.one_line(head.venue, LONGEST_NAME), ""),
        "day": wording.long_date(head.day, words) if head.day is not None else "",
        "revision": as_of,
        "rehearsal": words.gettext("REHEARSAL") if head.rehearsal else "",
        "rehearsal_note": practice if head.rehearsal else "",
        "invented": words.gettext("Demo: every team, person and sum is invented.")
        if head.invented
        else "",
        "page_of": words.gettext("{page} of {pages}"),
    }
