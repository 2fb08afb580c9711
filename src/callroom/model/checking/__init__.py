"""Whether an event makes sense in itself, and whether teams and crew fit it.

Decides: which faults make an event, a team or a volunteer unusable (errors), which are
allowed but probably not meant (warnings).
Never does: know where the data came from, or stop at the first fault.
May import: the nouns of ``model``.
"""

from callroom.model.checking.catalogue import RULES
from callroom.model.checking.event import check_event
from callroom.model.checking.teams import check_teams

__all__ = ["RULES", "check_event", "check_teams"]
