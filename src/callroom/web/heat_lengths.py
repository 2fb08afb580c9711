"""How long heats are forecast to take, worked out beside the pages that ask."""

import functools
import logging
import threading
from collections.abc import Callable, Mapping

from callroom.bootstrap.heat_lengths import floor_lengths
from callroom.model import Event, State
from callroom.model.pace import PaceInUse, by_part
from callroom.views.day_times import NO_LENGTHS, FloorLengths

_log = logging.getLogger("callroom.web")


def in_a_thread(work: Callable[[], None]) -> None:
    """Have work done in a thread that keeps nothing from ending."""
    threading.Thread(target=work, name="heat lengths", daemon=True).start()


class HeatLengths:
    """Answers at once with what is known; what is not is worked out in a thread of its own.

    Nothing is worked out before a heat is called: until then nothing rests on it.
    """

    def __init__(self, begin: Callable[[Callable[[], None]], None] = in_a_thread) -> None:
        """Know nothing yet; `begin` has work done beside what is going on."""
        self._begin = begin
        self._asked: tuple[Event, Mapping[str, PaceInUse]] | None = None
        self._known: FloorLengths = NO_LENGTHS

    def of(self, state: State) -> FloorLengths:
        """Return how long heats of each workout and division hold the floor [s].

        Empty until it has been worked out, and as before while it is worked out anew for a
        changed event or pace; whoever asks a few seconds later is told.
        """
        event = state.event
        if event is None or not any(run.stage != "waiting" for run in state.heats.values()):
            return NO_LENGTHS
        asked = event, state.paces
        if self._asked is None or any(a is not b for a, b in zip(asked, self._asked, strict=True)):
            self._asked = asked
            self._begin(functools.partial(self._work_out, *asked))
        return self._known

    def _work_out(self, event: Event, paces: Mapping[str, PaceInUse]) -> None:
        try:
            known = floor_lengths(event, by_part(paces.values()))
        except Exception:  # noqa: BLE001 - whatever it was, the planned lengths do
            _log.exception("the forecast of how long heats take failed")
            return
        if self._asked is not None and self._asked[0] is event and self._asked[1] is paces:
            self._known = known
