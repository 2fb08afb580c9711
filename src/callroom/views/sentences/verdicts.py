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
        "plan.no_such_change": N_("No change of the running plan made revision {revision}."),
        "seeding.too_late": N_(
            "These heats are called or have run: {heats}. Their teams stay where they are."
        ),
        "seeding.awaited": N_(
            "Results of {division} are not confirmed yet: {parts}. Confirm their heats first, so "
            "that nobody is moved by a score that changes."
        ),
        "seeding.other_standings": N_(
            "The standings of {division} have changed since this was shown, or it is done "
            "already. Look at the new proposal for {workout}."
        ),
        "standings.appeals_open": N_(
            "The standings of {division} are not final: the head judge has yet to decide appeal "
            "{appeals}."
        ),
    }
)
