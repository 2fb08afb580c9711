"""The head and foot of sheets that do not need a plan: made from the book as it stands."""

from gettext import NullTranslations

from callroom.model import from_milliseconds, wall_time
from callroom.paper.phrases import LONGEST_NAME
from callroom.paper.typesetting import name_text
from callroom.views import wording
from callroom.views.page_head import PageHead


def book_frame(
    head: PageHead,
    title: str,
    at_ms: int,
    words: NullTranslations,
    *,
    practice: str,
    invented: str,
) -> dict[str, object]:
    """Return what stands at the head and foot of every page, as of `at_ms` [ms, UTC].

    `practice` is said on the sheets of a rehearsal, `invented` on those of a demonstration.
    """
    at = wall_time(from_milliseconds(at_ms), head.zone)
    as_of = words.gettext("As of {day} {time}").format(
        day=at.date().isoformat(), time=f"{at:%H:%M}"
    )
    return {
        "title": title,
        "language": head.language,
        "event": name_text(wording.one_line(head.event, LONGEST_NAME), ""),
        "venue": name_text(wording.one_line(head.venue, LONGEST_NAME), ""),
        "day": wording.long_date(head.day, words) if head.day is not None else "",
        "revision": as_of,
        "rehearsal": words.gettext("REHEARSAL") if head.rehearsal else "",
        "rehearsal_note": practice if head.rehearsal else "",
        "invented": invented if head.invented else "",
        "page_of": words.gettext("{page} of {pages}"),
    }
