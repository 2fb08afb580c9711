"""What the presenter's sheet shows: the podium under the head of a published plan."""

import msgspec

from callroom.model import State
from callroom.views.masthead import Masthead, masthead
from callroom.views.podium import Podium


class PodiumSheet(msgspec.Struct, frozen=True, kw_only=True):
    """The podium to be read aloud, third place first."""

    masthead: Masthead
    podium: Podium


def podium_sheet(state: State, view: Podium) -> PodiumSheet:
    """Return the sheet of a podium; NotFound without a published plan."""
    return PodiumSheet(masthead=masthead(state), podium=view)
