"""What the forecast expects of scores, worked out beside the desk that asks."""

import logging
import threading

from callroom.bootstrap.expected import expected_scores
from callroom.model import Event
from callroom.views.card_questions import NOTHING_EXPECTED, Expectations

_log = logging.getLogger("callroom.web")


class Expecting:
    """Answers at once with what is known; what is not is worked out in a thread of its own."""

    def __init__(self) -> None:
        """Expect nothing yet."""
        self._asked: Event | None = None
        self._known: Expectations = NOTHING_EXPECTED

    def of(self, event: Event) -> Expectations:
        """Return what to expect of `event`; nothing until that is worked out."""
        if event is not self._asked:
            self._asked, self._known = event, NOTHING_EXPECTED
            threading.Thread(
                target=self._work_out, args=(event,), name="expected scores", daemon=True
            ).start()
        return self._known

    def _work_out(self, event: Event) -> None:
        try:
            known = expected_scores(event)
        except Exception:  # noqa: BLE001 - whatever it was, the desk goes on without
            _log.exception("the forecast of scores failed")
            return
        if event is self._asked:
            self._known = known
