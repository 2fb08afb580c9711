"""A book that was taken to the hall: its hosted copy takes nothing until it is back."""

import msgspec


class Away(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """Since which entry, and when [ms, UTC], the book is on another laptop."""

    seq: int
    at_ms: int
