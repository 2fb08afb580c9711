"""A problem with the data, as a value: all of them are reported at once."""

from collections.abc import Mapping
from typing import Literal

import msgspec

Fact = str | int | bool | None
Severity = Literal["error", "warning", "note"]


class Finding(msgspec.Struct, frozen=True):
    """Something a person must know about the data.

    Attributes
    ----------
    rule
        Which rule found it, `package.what` (``"event.cap_missing"``). The face turns
        the rule and the facts into a sentence that says what is wrong and the mend.
    severity
        ``error``: cannot be used as it is. ``warning``: allowed, but breaks a wish.
        ``note``: worth knowing.
    subject
        The thing concerned, as a path: ``"workouts.w2.parts.a.cap"``, ``"team.T07"``,
        ``"heat.w1-3"``.
    facts
        What the sentence needs, whole numbers and texts only.
    source
        Where the rule comes from, or where the data stood (``"teams.csv:12:division"``).
    """

    rule: str
    severity: Severity
    subject: str
    facts: Mapping[str, Fact] = {}
    source: str = ""


def errors_among(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Return the findings which forbid going on."""
    return tuple(finding for finding in findings if finding.severity == "error")
