"""What a table of kinds holds."""

from collections.abc import Callable
from typing import Any

import msgspec

Upgrader = Callable[[dict[str, Any]], dict[str, Any]]
"""Turns the data of one version into that of the next; may change its argument."""


class Kind(msgspec.Struct, frozen=True):
    """A kind of entry; a table gives it its written name, for ever.

    Attributes
    ----------
    version
        The version written today, from 1; older ones are upgraded on reading.
    body
        The struct its data is read into; no two kinds share one.
    is_report
        Whether it is a report (what somebody saw: always stored) or a decision
        (refused by rules).
    """

    version: int
    body: type[msgspec.Struct]
    is_report: bool = False
