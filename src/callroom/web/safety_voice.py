"""What the templates of the safety pages call to say a value."""

from gettext import NullTranslations

from callroom.model import Finding
from callroom.model.safety import AreaUse, IncidentSort
from callroom.views.safety_plan import Post, SectionId
from callroom.views.safety_wording import POST_NAMES, SECTIONS, SORTS, USES, point_text


class SafetyVoice:
    """Safety in the language of the event."""

    def __init__(self, words: NullTranslations) -> None:
        """Say everything in `words`."""
        self._words = words

    def point(self, point: Finding) -> str:
        """Return a point of the plan, or of a reading, as a sentence."""
        return point_text(point, self._words)

    def section(self, section: SectionId) -> str:
        """Return the heading of a section."""
        return self._words.gettext(SECTIONS[section])

    def post(self, post: Post) -> str:
        """Return what a post is called."""
        return self._words.gettext(POST_NAMES[post])

    def sort(self, sort: IncidentSort) -> str:
        """Return of which sort an incident is."""
        return self._words.gettext(SORTS[sort])

    def use(self, use: AreaUse) -> str:
        """Return what an area is used for."""
        return self._words.gettext(USES[use])

    def tenths(self, value: int | None) -> str:
        """Return tenths as a number with one digit; a dash for nothing."""
        return "–" if value is None else f"{value / 10:.1f}"
