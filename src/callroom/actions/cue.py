"""One moment of a rehearsal's script."""

from collections.abc import Callable

import msgspec

from callroom.actions.request import Request
from callroom.model import Role, State

# Invented for practice: how long after a finish a judge sends.
SEND_AFTER_MS = 4_000


class Cue(msgspec.Struct, frozen=True, kw_only=True):
    """One moment of the script.

    `at_ms` is when [ms, UTC]; `post` names the device that does it: ``floor``,
    ``head_judge``, ``desk``, ``director``, ``treasurer``, ``first_aid`` or ``<floor>/<lane>`` for a lane's
    judge. What can only be asked once it is known what has happened by then, `later` makes of
    the State at that moment; `request` is empty then.
    """

    at_ms: int
    role: Role
    post: str
    request: Request
    later: Callable[[State], Request] | None = None

    def asked(self, state: State) -> Request:
        """Return what is asked at this moment, when the book stands as `state`."""
        return self.request if self.later is None else self.later(state)


def judge_cue(at_ms: int, request: Request) -> Cue:
    """Return a moment of the head judge."""
    return Cue(at_ms=at_ms, role="head_judge", post="head_judge", request=request)
