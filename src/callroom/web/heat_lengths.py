"""How long heats are forecast to take, worked out beside the pages that ask."""

import logging
import threading

from callroom.bootstrap.heat_lengths import floor_lengths
from callroom.model import Event, State
from callroom.views.day_times import NO_LENGTHS, FloorLengths

_log = logging.getLogger("callroom.web")


class HeatLengths:
    """Answers at once with what is known; what is not is worked out in a thread of its own.

    Nothing is worked out before a heat is called: until then nothing rests on it.
    """

    def __init__(self) -> None:
        """Know nothing yet."""
        self._asked: Event | None = None
        self._known: FloorLengths = NO_LENGTHS

    def of(self, state: State) -> FloorLengths:
        """Return how long heats of each workout and division hold the floor [s].

        Empty until it has been worked out for the event as it stands; whoever asks a few
        seconds later is told.
        """
        event = state.event
        if event is None or not any(run.stage != "waiting" for run in state.heats.values()):
            return NO_LENGTHS
        if event is not self._asked:
            self._asked = event
            threading.Thread(
                target=self._work_out, args=(event,), name="heat lengths", daemon=True
            ).start()
        return self._known

    def _work_out(self, event: Event) -> None:
        try:
            known = floor_lengths(event)
        except Exception:  # noqa: BLE001 - whatever it was, the planned lengths do
            _log.exception("the forecast of how long heats take failed")
            return
        if event is self._asked:
            self._known = known
