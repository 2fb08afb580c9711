"""Reports that a phone brings from before it joined anew: stored as the device that made them."""

from msgspec.structs import replace

from callroom.actions.request import Request, kind_of
from callroom.journal.entries.kinds import KINDS
from callroom.model import Actor, State


def as_made_by(actor: Actor, request: Request, device: str, state: State) -> Actor:
    """Return as whom a request is asked.

    A phone that follows the server to another address may have to join there with a new code.
    What it had sent before, and of which it heard no answer, may be in the book already: only
    under the device and the key it was made with does the book see that. So a report may name
    the device that made it, if the book knows that device. A decision never may: it is made by
    whoever asks. The name the journal keeps stays that of the one who brings it.
    """
    known = device in state.devices and device != actor.device
    reports_only = all(KINDS[kind_of(body)].is_report for body in request.proposals)
    return replace(actor, device=device) if known and reports_only else actor
