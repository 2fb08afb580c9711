"""What the templates of the floor plan call to say a value."""

from gettext import NullTranslations

from callroom.model import Finding
from callroom.model.ground import SpotKind, Wall
from callroom.model.mass import MassUnit
from callroom.views.floor_plan_wording import (
    KINDS,
    WALL_NAMES,
    finding_text,
    legend,
    length,
    typed_length,
)


class GroundVoice:
    """Sizes and things of the ground in the event's units and language."""

    def __init__(self, unit: MassUnit, words: NullTranslations) -> None:
        """Say lengths in feet where `unit` is pounds, in metres otherwise."""
        self._unit = unit
        self._words = words

    @property
    def feet(self) -> bool:
        """Whether lengths are in feet."""
        return self._unit == "lb"

    def length(self, mm: int) -> str:
        """Return a length as people say it."""
        return length(mm, self._unit, self._words)

    def typed(self, mm: int) -> str:
        """Return a length as it stands in a field; empty for nought."""
        return typed_length(mm, self._unit) if mm else "0"

    def finding(self, finding: Finding) -> str:
        """Return what is wrong as a sentence."""
        return finding_text(finding, self._unit, self._words)

    def kind(self, kind: SpotKind) -> str:
        """Return what a kind of spot is called."""
        return self._words.gettext(KINDS[kind])

    def wall(self, wall: Wall) -> str:
        """Return what a wall is called."""
        return self._words.gettext(WALL_NAMES[wall])

    @property
    def legend(self) -> tuple[tuple[str, str], ...]:
        """What each look of the drawing means."""
        return legend(self._words)
