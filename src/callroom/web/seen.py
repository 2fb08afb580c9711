"""What this server has seen since it began: devices that asked, and a phone at the printed address.

Kept in memory: it is about this server on this network this morning, not about the event.
"""

from urllib.parse import urlsplit

import msgspec

from callroom.web.hosts import is_loopback

MOST_DEVICES = 2_000


class DeviceSeen(msgspec.Struct, frozen=True, kw_only=True):
    """When a device last asked [ms, UTC], and how wrong its clock may be at most [ms].

    The error is as the device last said it with a report; None: it said none yet. `waiting` is
    how much it still had to send then, as far as it says so.
    """

    at_ms: int
    clock_error_ms: int | None = None
    waiting: int | None = None


class Seen:
    """Notes who asked."""

    def __init__(self) -> None:
        """Begin with nobody."""
        self.devices: dict[str, DeviceSeen] = {}
        self.printed_ms: int | None = None
        """When another machine last opened a page through the printed address [ms, UTC]."""

    def device(
        self,
        device: str,
        now_ms: int,
        clock_error_ms: int | None = None,
        waiting: int | None = None,
    ) -> None:
        """Note that a device asked; what it did not say again stays known."""
        before = self.devices.pop(device, None)
        if clock_error_ms is None and before is not None:
            clock_error_ms = before.clock_error_ms
        if waiting is None and before is not None:
            waiting = before.waiting
        self.devices[device] = DeviceSeen(
            at_ms=now_ms, clock_error_ms=clock_error_ms, waiting=waiting
        )
        if len(self.devices) > MOST_DEVICES:
            self.devices.pop(next(iter(self.devices)))


def by_printed(host: str, peer: str, printed: str) -> bool:
    """Whether a request came from another machine by the printed address."""
    far = bool(printed) and not is_loopback(peer)
    return far and host.lower() == urlsplit(printed).netloc.lower()
