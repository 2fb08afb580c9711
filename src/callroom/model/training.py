"""What a device's holder knew of the standards when they last checked themselves."""

import msgspec


class Training(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The last self-check of one device or volunteer, and how often it was taken.

    `person` is the volunteer's number, where it was typed; nobody's name is in it.
    """

    seq: int
    at_ms: int
    device: str
    movements: tuple[str, ...]
    right: int
    asked: int
    times: int = 1
    person: str = ""

    @property
    def passed(self) -> bool:
        """Whether enough was right to judge without somebody beside one."""
        return self.right * 4 >= self.asked * PASSED_QUARTERS


PASSED_QUARTERS = 3
"""Quarters of the answers that are to be right; common practice, no source."""
