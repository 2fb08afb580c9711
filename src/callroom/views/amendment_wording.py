"""What an amendment says of the heats that had run, in words."""

from gettext import NullTranslations

from callroom.views.amendment_text import AmendmentText
from callroom.views.wording import ENGLISH


def since(text: AmendmentText, words: NullTranslations = ENGLISH) -> str:
    """Return from which heat it holds; empty for a workout that is void or run to its end."""
    if text.remedy == "void" or text.from_heat is None:
        return ""
    return words.gettext("from heat {number} on").format(number=text.from_heat)


def remedy(text: AmendmentText, words: NullTranslations = ENGLISH) -> str:
    """Return what becomes of the heats that had run; empty if none had."""
    heats = ", ".join(str(number) for number in text.had_run)
    if text.remedy == "void":
        return words.gettext("The workout is void and counts for nothing.")
    if text.remedy == "again":
        return words.gettext("All run again; what heats {heats} did counts for nothing.").format(
            heats=heats
        )
    if text.remedy == "common":
        return words.gettext("All are scored to a common point, heats {heats} too: {point}").format(
            heats=heats, point=text.common_point
        )
    return ""
