"""Where in the event a check stands."""

import msgspec

from callroom.model.checking.catalogue import RULES
from callroom.model.finding import Fact, Finding


class Spot(msgspec.Struct, frozen=True):
    """Where in the event a check stands: the subject's path and the ids to say."""

    path: str
    ids: dict[str, str]

    def found(self, rule: str, field: str = "", /, **facts: Fact) -> Finding:
        """Return what `rule` finds of `field` here."""
        subject = f"{self.path}.{field}" if field else self.path
        return RULES.found(rule, subject, **self.ids, **facts)
