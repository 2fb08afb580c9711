"""The floor manager's view: one floor, what is to be done there now, and what is next."""

import msgspec

from callroom.model import NotFound, State
from callroom.views.board import BoardHeat, FloorPace, board
from callroom.views.day_times import NO_TIMES, DayTimes
from callroom.views.page_head import PageHead, page_head
from callroom.views.timetable import CREW

# Common practice, no source: who calls heats looks two ahead, to warn teams and kit.
_NEXT_SHOWN = 3


class FloorDesk(msgspec.Struct, frozen=True, kw_only=True):
    """One floor for who manages it; heats in time order.

    `floors` are all there are, `floor` the one shown. `awaited` are heats that have ended and
    still lack a score.
    """

    head: PageHead
    floors: tuple[FloorPace, ...]
    floor: FloorPace
    on_floor: tuple[BoardHeat, ...]
    called: tuple[BoardHeat, ...]
    next: tuple[BoardHeat, ...]
    awaited: tuple[BoardHeat, ...]


def floor_desk(state: State, floor_id: str, *, times: DayTimes = NO_TIMES) -> FloorDesk:
    """Return the desk of one floor; NotFound if the event has no such floor."""
    shown = board(state, CREW, _NEXT_SHOWN, times=times)
    floor = next((one for one in shown.paces if one.id == floor_id), None)
    if floor is None:
        raise NotFound("floor.unknown", floor=floor_id)

    def here(heats: tuple[BoardHeat, ...]) -> tuple[BoardHeat, ...]:
        return tuple(heat for heat in heats if heat.slot.floor == floor_id)

    return FloorDesk(
        head=page_head(state),
        floors=shown.paces,
        floor=floor,
        on_floor=here(shown.on_floor),
        called=here(shown.called),
        next=here(shown.next),
        awaited=tuple(heat for heat in here(shown.done) if heat.step == "finished"),
    )
