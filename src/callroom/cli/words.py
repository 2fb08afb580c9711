"""The language of the command line: the one the machine is set to, English without it."""

import gettext
from importlib.resources import files

_WORDS = gettext.translation("callroom", str(files("callroom") / "locale"), fallback=True)


def _(text: str) -> str:
    """Return `text` in the machine's language."""
    return _WORDS.gettext(text)
