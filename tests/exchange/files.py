"""Files to read in tests, and where in them a fault is expected."""

from collections.abc import Callable
from typing import Any

import pytest

from callroom.model import BadInput, Finding

HERE = "«"
"""Put into a text where the fault is expected; it is taken out before the text is read."""

SMALL_EVENT = """\
format = 1

[event]
id = "small"
name = "A small day"
day = 2027-03-13
zone = "Europe/Berlin"
start = "09:00"

[categories]
women = "Women"
men = "Men"

[divisions.open]
name = "Open"
team = { women = 1, men = 1 }

[floors.main]
name = "Main floor"
lanes = 4

[workouts.w1]
name = "First"
floor = "main"
result = "time"
cap = "10:00"

[[workouts.w1.blocks]]
[[workouts.w1.blocks.tasks]]
movement = "thruster"
reps = [21, 15, 9]
loads = { women = "29 kg / 65 lb", men = "43 kg / 95 lb" }
[[workouts.w1.blocks.tasks]]
movement = "pull_up"
reps = [21, 15, 9]

[rules]
tie_chain = ["most_firsts"]

[wishes]
first_heat = "09:15"
finish_by = "12:00"

[wishes.pauses.lunch]
name = "Lunch"
at = "10:30"
length = "30 min"
"""


def marked(text: str) -> tuple[str, int, int]:
    """Return `text` without its mark, and the mark's line and column."""
    before, _, after = text.partition(HERE)
    return before + after, before.count("\n") + 1, len(before.rpartition("\n")[2]) + 1


def refused(read: Callable[..., Any], *given: Any, **named: Any) -> tuple[Finding, ...]:
    """Return the findings with which `read` refuses what is given."""
    with pytest.raises(BadInput) as caught:
        read(*given, **named)
    return caught.value.findings


def places(findings: tuple[Finding, ...]) -> list[tuple[str, object, object]]:
    """Return the rule, row and column of each finding."""
    return [(found.rule, found.facts["row"], found.facts["column"]) for found in findings]
