"""What the big screen in the hall shows, as the director set it."""

from typing import Literal, get_args

import msgspec

ScreenPart = Literal["floor", "next", "standings", "raised", "programme", "thanks"]
SCREEN_PARTS: tuple[ScreenPart, ...] = get_args(ScreenPart)

# Shorter than this nobody reads it, longer and nobody waits for the next (common practice, no
# source).
LEAST_EACH_S, MOST_EACH_S = 4, 120


class Screen(msgspec.Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The parts that take turns, each for `each_s` seconds, in the order of `SCREEN_PARTS`.

    `message` stands under every part while it is not empty; `thanks` are the lines of the
    part that thanks those who help. A part with nothing to show is passed over.
    """

    parts: tuple[ScreenPart, ...] = SCREEN_PARTS
    each_s: int = 12
    message: str = ""
    thanks: tuple[str, ...] = ()
