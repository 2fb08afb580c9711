"""The language of a page: the event's own where there is a translation, else English."""

import gettext
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

import msgspec

DOMAIN = "callroom"


class Language(msgspec.Struct, frozen=True):
    """A language tag for the page's ``lang``, and its texts."""

    tag: str
    words: gettext.NullTranslations


@lru_cache(maxsize=16)
def language_of(wanted: str) -> Language:
    """Return the language called `wanted` (``"pt-BR"``), or English if it has no texts."""
    folder = Path(str(files("callroom") / "locale"))
    name = wanted.replace("-", "_")
    try:
        words = gettext.translation(DOMAIN, folder, languages=[name, name.partition("_")[0]])
    except OSError:
        return Language("en", gettext.NullTranslations())
    return Language(wanted, words)
