"""The catalogue of a package's rules: how severe each is, and which facts it gives."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType

import msgspec

from callroom.model.finding import Fact, Finding, Severity


class CatalogueRule(msgspec.Struct, frozen=True):
    """A rule that findings or refusals name, with the facts its sentence may use."""

    rule: str
    severity: Severity
    facts: tuple[str, ...]


class Catalogue:
    """Every rule of one package, written down once, so that sentences can be checked."""

    def __init__(self, *rows: tuple[Severity, str, str]) -> None:
        """Keep `rows` of severity, rule, and fact names parted by spaces."""
        rules = {
            rule: CatalogueRule(rule, severity, tuple(facts.split()))
            for severity, rule, facts in rows
        }
        self._rules: Mapping[str, CatalogueRule] = MappingProxyType(rules)

    def __iter__(self) -> Iterator[CatalogueRule]:
        """Go through the rules as listed."""
        return iter(self._rules.values())

    def __getitem__(self, rule: str) -> CatalogueRule:
        """Return a rule by its id; KeyError if it is not in the catalogue."""
        return self._rules[rule]

    def found(self, rule: str, subject: str, /, **facts: Fact) -> Finding:
        """Return the finding that `rule` makes of `subject`, with its facts."""
        severity = self._rules[rule].severity
        return Finding(rule=rule, severity=severity, subject=subject, facts=facts)
