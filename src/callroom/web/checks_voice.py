"""What the templates of the checklists call to say a value."""

from datetime import date
from gettext import NullTranslations

from callroom.model.checks import Phase
from callroom.views.checklist import Check
from callroom.views.checklist_wording import PHASE_NAMES, check_text, post_text, why_text
from callroom.views.wording import short_day


class ChecksVoice:
    """Checklists in the language of the event."""

    def __init__(self, words: NullTranslations) -> None:
        """Say everything in `words`."""
        self._words = words

    def text(self, check: Check) -> str:
        """Return what has to be done."""
        return check_text(check, self._words)

    def why(self, check: Check) -> str:
        """Return why; empty for a point of the director's own."""
        return why_text(check, self._words)

    def post(self, post: str) -> str:
        """Return whose it is."""
        return post_text(post, self._words)

    def phase(self, phase: Phase) -> str:
        """Return what a time is called."""
        return self._words.gettext(PHASE_NAMES[phase])

    def day(self, day: date) -> str:
        """Return a day without its year."""
        return short_day(day, self._words)
