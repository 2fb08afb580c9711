"""The pages of the event, by the name in their address."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from callroom.model import Event, Team
from callroom.web.event_pages.asked import Part, Text
from callroom.web.event_pages.event_parts import basics_part, divisions_part, floors_part
from callroom.web.event_pages.rules_part import rules_part
from callroom.web.event_pages.wishes_part import wishes_part

_PLAIN: Mapping[str, Callable[[Event, Text], Part]] = MappingProxyType(
    {
        "basics": basics_part,
        "floors": floors_part,
        "divisions": divisions_part,
        "rules": rules_part,
    }
)


def parts_of(event: Event, teams: tuple[Team, ...], text: Text) -> tuple[Part, ...]:
    """Return the pages for an event and its teams, labelled by `text` in some language."""
    plain = (make(event, text) for make in _PLAIN.values())
    return (*plain, wishes_part(event, teams, text))
