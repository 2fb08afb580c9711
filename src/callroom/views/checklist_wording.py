"""The checklists in words."""

from collections.abc import Mapping
from gettext import NullTranslations
from types import MappingProxyType

import msgspec

from callroom.model.checks import Phase
from callroom.model.words import N_
from callroom.views import rota_wording
from callroom.views.checklist import Check
from callroom.views.sentences import sentence

PHASE_NAMES: Mapping[Phase, str] = MappingProxyType(
    {
        "before": N_("Before the day"),
        "morning": N_("On the morning"),
        "during": N_("While it runs"),
        "after": N_("Afterwards"),
    }
)


def check_text(check: Check, words: NullTranslations) -> str:
    """Return what has to be done."""
    return check.text if check.says is None else sentence(check.says, words.gettext)


def why_text(check: Check, words: NullTranslations) -> str:
    """Return why; empty for a point of the director's own."""
    if check.says is None:
        return ""
    why = msgspec.structs.replace(check.says, rule=f"{check.says.rule}_why")
    return sentence(why, words.gettext)


def post_text(post: str, words: NullTranslations) -> str:
    """Return whose point it is."""
    return words.gettext("director") if post == "director" else rota_wording.post(post, words)
