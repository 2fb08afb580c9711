"""A live part of a page, as it is put into the page the first time."""

import msgspec
from markupsafe import Markup


class LiveText(msgspec.Struct, frozen=True, kw_only=True):
    """A topic with what it shows now; `seq` is the id from which the stream goes on."""

    topic: str
    seq: int
    text: Markup
