"""What a request would make of the State, without asking for it."""

from callroom.actions.decide import decide
from callroom.actions.request import Request, kind_of
from callroom.journal.entries import Entry
from callroom.journal.entries.kinds import KINDS
from callroom.journal.fold import Batch
from callroom.model import Actor, State


def preview(state: State, actor: Actor, request: Request, now_ms: int) -> State:
    """Return the State as it would be after `request`; nothing is stored.

    Raises
    ------
    CallroomError
        Whatever :func:`callroom.actions.decide.decide` refuses.
    """
    batch = Batch(state)
    for part, body in enumerate(decide(state, actor, request, now_ms)):
        kind = kind_of(body)
        entry = Entry(
            seq=state.seq + 1 + part,
            at_ms=now_ms,
            actor=actor.name,
            device=actor.device,
            key="preview",
            part=part,
            kind=kind,
            version=KINDS[kind].version,
            data=b"",
        )
        batch.apply(entry, body)
    return batch.freeze()
