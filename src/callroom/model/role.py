"""Roles, and the devices that hold them."""

from typing import Literal

import msgspec

Role = Literal["director", "head_judge", "desk", "judge", "crew", "first_aid", "public"]


class Device(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A phone or laptop that joined.

    What its holder typed about it stays out of the journal, which cannot forget.
    """

    id: str
    role: Role
    joined_seq: int
    revoked_seq: int | None = None


class Actor(msgspec.Struct, frozen=True, kw_only=True):
    """Who asks: a role, the device it holds, and the name the journal keeps."""

    role: Role
    device: str
    name: str
