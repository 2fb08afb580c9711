"""Sentences about appeals, podiums and embargoes."""

from collections.abc import Mapping
from types import MappingProxyType

from callroom.model.words import N_

SENTENCES: Mapping[str, str] = MappingProxyType(
    {
        "appeal.says_nothing": N_("Say what the team appeals against: the head judge reads it."),
        "appeal.from_the_future": N_(
            "The appeal would be handed in {ahead_s} from now. Look at the clock and correct the "
            "time."
        ),
        "appeal.late": N_(
            "The time for appeals in {division} ended {late_s} before this one was handed in. "
            "The rules of the event refuse late appeals."
        ),
        "appeal.unknown": N_("There is no appeal {number}."),
        "appeal.closed": N_("Appeal {number} has been decided or taken back. Reload the page."),
        "podium.not_certain": N_(
            "The podium of {division} is not certain: {scores} open scores can still change it. "
            "Settle them, or let it out with a reason."
        ),
        "entry.unknown": N_("There is no entry {seq} in this book."),
        "standings.appeals_open": N_(
            "The standings of {division} are not final: the head judge has yet to decide appeal "
            "{appeals}."
        ),
    }
)
