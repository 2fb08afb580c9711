"""What every sheet about money says alike, also before there is a plan."""

from gettext import NullTranslations

from callroom.paper.book_frame import book_frame
from callroom.views.page_head import PageHead


def money_frame(
    head: PageHead, title: str, at_ms: int, words: NullTranslations
) -> dict[str, object]:
    """Return what stands at the head and foot of every page, as of `at_ms` [ms, UTC]."""
    return book_frame(
        head,
        title,
        at_ms,
        words,
        practice=words.gettext("Practice run. No real money is on this sheet."),
        invented=words.gettext("Demo: every team, person and sum is invented."),
    )
