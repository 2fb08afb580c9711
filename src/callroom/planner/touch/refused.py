"""A change by hand that cannot be: the draft stays as it is."""

from callroom.model.errors import Refusal
from callroom.model.finding import Fact, Finding


class Impossible(Refusal):
    """A change after which the plan could not be run; carries what the check says of it."""

    def __init__(self, rule: str, findings: tuple[Finding, ...] = (), **facts: Fact) -> None:
        """Keep the rule, its facts, and the errors that the change would make."""
        super().__init__(rule, **facts)
        self.findings = findings
