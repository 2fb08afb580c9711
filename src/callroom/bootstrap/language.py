"""The language of a page: the event's own where there is a translation, else English.

Where there is no event yet, the browser says which languages its user reads.
"""

import gettext
import re
from functools import lru_cache
from importlib.resources import files
from pathlib import Path

import msgspec

DOMAIN = "callroom"
_LONGEST_ASKED = 200
_TAG = re.compile(r"[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8})*")


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


def accepted(asked: str) -> Language:
    """Return the first language with texts of those a browser asks for, or English.

    `asked` is the header ``Accept-Language``, RFC 9110 section 12.5.4.
    """
    weighed: list[tuple[float, str]] = []
    for part in asked[:_LONGEST_ASKED].split(","):
        tag, _, weight = part.partition(";")
        plain = weight.strip().removeprefix("q=").replace(".", "", 1)
        quality = float(weight.strip()[2:]) if plain.isascii() and plain.isdigit() else 1.0
        if _TAG.fullmatch(tag.strip()) and quality > 0:
            weighed.append((-quality, tag.strip()))
    for _, tag in sorted(weighed, key=lambda one: one[0]):
        found = language_of(tag)
        if found.tag == tag or tag.partition("-")[0].lower() == "en":
            return found
    return language_of("en")
