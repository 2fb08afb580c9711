"""The one root of all refusals, and the few families below it."""

from callroom.model.finding import Fact, Finding


class CallroomError(Exception):
    """Root of everything Callroom refuses. Carries facts; the face makes the sentence."""

    def __init__(self, rule: str, **facts: Fact) -> None:
        """Keep the `rule` and the `facts` it rests on."""
        super().__init__(rule, facts)
        self.rule = rule
        self.facts = facts

    def __str__(self) -> str:
        """Return the rule with its facts, for logs; people see the face's sentence."""
        return f"{self.rule}: " + ", ".join(f"{key}={value!r}" for key, value in self.facts.items())

    def finding(self) -> Finding:
        """Return the refusal as a finding, so that faces have one way to say both."""
        subject = str(self.facts.get("subject", ""))
        return Finding(rule=self.rule, severity="error", subject=subject, facts=self.facts)


class Refusal(CallroomError):
    """A decision the rules do not allow as things stand."""


class Stale(Refusal):
    """A decision that rests on something which has changed since it was shown."""


class NotAllowed(Refusal):
    """The person's role does not permit this."""


class NotFound(CallroomError):
    """The thing named is not in this book."""


class BadInput(CallroomError):
    """What was handed in cannot be read; carries every fault, not only the first."""

    def __init__(self, findings: tuple[Finding, ...]) -> None:
        """Keep all `findings`; at least one of them is an error."""
        super().__init__("input.faulty", count=len(findings))
        self.findings = findings
