"""Faults of a file being read: all of them are gathered before anything is refused."""

import difflib
import unicodedata
from collections.abc import Iterable
from decimal import Decimal

import msgspec

from callroom.exchange.catalogue import RULES
from callroom.model import BadInput, Fact, Finding, errors_among

LONGEST_SHOWN = 60
"""Characters of a given value that a message quotes; the rest adds nothing but noise."""

MOST_FAULTS = 200
"""Faults listed of one file. Beyond this the file is of another kind, not mistyped."""

# Marks that are not seen but turn the direction of what follows: a name that holds one can
# make a printed sheet read differently from the file. Source: Unicode Standard Annex #9,
# section 2 (embeddings, overrides, isolates). Plain left-to-right and right-to-left marks
# and joiners belong to ordinary writing and are kept.
TURNING_MARKS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


class Spot(msgspec.Struct, frozen=True):
    """Where something stands in a file: row and column as a person counts them, 0: unknown."""

    row: int = 0
    column: str = ""


NOWHERE = Spot()


class Faults:
    """What is wrong with one file, in the order found."""

    def __init__(self, file: str) -> None:
        self.file = one_line(file)
        self._found: list[Finding] = []
        self._left_out = 0

    def add(self, rule: str, spot: Spot, subject: str, /, **facts: Fact) -> None:
        """Keep what `rule` finds of `subject` at `spot`."""
        self.add_finding(RULES.found(rule, subject, **facts), spot)

    def add_finding(self, finding: Finding, spot: Spot) -> None:
        """Keep a finding of any package, with the place in the file that it stems from."""
        if len(self._found) >= MOST_FAULTS:
            self._left_out += 1
            return
        self._found.append(self._placed(finding, spot))

    def _placed(self, finding: Finding, spot: Spot) -> Finding:
        steps = [self.file, str(spot.row) if spot.row else "", spot.column]
        place = {"file": self.file, "row": spot.row, "column": spot.column}
        return msgspec.structs.replace(
            finding,
            facts={**place, **finding.facts},
            source=":".join(step for step in steps if step),
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Everything found so far."""
        if not self._left_out:
            return tuple(self._found)
        more = RULES.found("file.more_faults", "file", count=self._left_out)
        return (*self._found, self._placed(more, NOWHERE))

    @property
    def any_errors(self) -> bool:
        """Whether anything found so far forbids loading the file."""
        return bool(errors_among(self.findings))

    def refuse_if_any(self) -> None:
        """Raise :class:`BadInput` with everything found, if there is an error among it."""
        if self.any_errors:
            raise BadInput(self.findings)


def one_line(text: str) -> str:
    """Return `text` in one line with nothing unseen in it, at most `LONGEST_SHOWN` long."""
    seen = "".join(_visible(sign) for sign in text[: LONGEST_SHOWN + 1])
    return seen if len(seen) <= LONGEST_SHOWN else seen[: LONGEST_SHOWN - 1] + "…"


def is_unseen(sign: str) -> bool:
    """Whether a character is not seen but acts: controls, and marks that turn direction."""
    return sign in TURNING_MARKS or unicodedata.category(sign) in {"Cc", "Cs", "Zl", "Zp"}


def _visible(sign: str) -> str:
    if is_unseen(sign):
        return {"\n": "⏎", "\t": "⇥"}.get(sign, f"\\u{ord(sign):04x}")
    return sign


def shown(value: object) -> str:
    """Return a given value as a message quotes it: as it was typed, not as Python writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return one_line(value)
    if isinstance(value, Decimal):
        return one_line(str(value))
    if isinstance(value, int) and abs(value) >= 10**LONGEST_SHOWN:
        return one_line(hex(value))  # Python refuses to write thousands of decimal digits
    if isinstance(value, list):
        return "[…]"
    if isinstance(value, dict):
        return "{…}"
    return one_line(str(value))


def nearest(given: str, known: Iterable[str]) -> str:
    """Return the known word most like `given`, or an empty text where none is like it."""
    words = {word.casefold(): word for word in known}
    found = difflib.get_close_matches(given[:100].casefold(), words, n=1, cutoff=0.6)
    return words[found[0]] if found else ""
