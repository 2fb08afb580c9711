"""What a template calls to say the values of a rota."""

from gettext import NullTranslations

from callroom.views import rota_wording
from callroom.views.rota_day import DutyLine


class RotaVoice:
    """Says posts and stretches of somebody's day in one language."""

    def __init__(self, words: NullTranslations) -> None:
        """Speak with `words`."""
        self._words = words

    def post(self, name: str) -> str:
        """Return a post by its name."""
        return rota_wording.post(name, self._words)

    def where(self, line: DutyLine) -> str:
        """Return where somebody is."""
        return rota_wording.where(line, self._words)

    def heats(self, line: DutyLine) -> str:
        """Return which heats a stretch has."""
        return rota_wording.heats(line, self._words)

    def hours(self, length_s: int) -> str:
        """Return how long somebody is on duty: ``"3:45 h"``."""
        return rota_wording.hours(length_s)
