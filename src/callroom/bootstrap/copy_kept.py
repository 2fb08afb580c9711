"""How the rolling copy for another laptop stands."""

import msgspec

from callroom.bootstrap.standby_files import CopyNote, TakenMark


class CopyKept(msgspec.Struct, frozen=True, kw_only=True):
    """How the rolling copy stands, for the director to see.

    `note` is about the last copy (None: none yet), `failing` why the last try did not
    succeed (empty: it did), `taken` by whom the book was carried on from here.
    """

    folder: str
    note: CopyNote | None = None
    failing: str = ""
    taken: TakenMark | None = None
