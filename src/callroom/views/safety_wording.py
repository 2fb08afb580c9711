"""Safety in words: the points of a plan, the posts, the sorts of incidents."""

from collections.abc import Mapping
from gettext import NullTranslations
from types import MappingProxyType

import msgspec

from callroom.model import Finding
from callroom.model.safety import AreaUse, IncidentSort
from callroom.model.words import N_
from callroom.safety import IndexBand
from callroom.views.safety_plan import Post, SectionId
from callroom.views.sentences import sentence

SECTIONS: Mapping[SectionId, str] = MappingProxyType(
    {
        "cover": N_("First aid and defibrillator"),
        "emergency": N_("In an emergency"),
        "crowd": N_("People, exits, walkways"),
        "weather": N_("Heat, thunder, wind"),
        "kit": N_("Kit and loads"),
        "people": N_("Children, people under age, alcohol"),
        "stop": N_("Stopping"),
    }
)
POST_NAMES: Mapping[Post, str] = MappingProxyType(
    {
        "lead": N_("Whoever leads the day"),
        "floor": N_("Floor manager"),
        "judge": N_("Judge"),
        "first_aid": N_("First aid"),
        "door": N_("Door and walkways"),
        "desk": N_("Desk and announcer"),
    }
)
SORTS: Mapping[IncidentSort, str] = MappingProxyType(
    {
        "injury": N_("an injury"),
        "illness": N_("somebody taken ill"),
        "kit": N_("kit that failed"),
        "crowd": N_("crowd, exits, fire"),
        "child": N_("a child alone"),
        "near_miss": N_("it nearly happened"),
        "other": N_("something else"),
    }
)
USES: Mapping[AreaUse, str] = MappingProxyType(
    {
        "standing": N_("people standing"),
        "chairs": N_("chairs"),
        "tables": N_("tables and chairs"),
        "exercise": N_("the competition floor, warm-up, changing rooms"),
        "classroom": N_("classroom"),
        "sales": N_("stalls"),
        "offices": N_("offices"),
        "kitchen": N_("kitchen"),
        "storage": N_("storage"),
    }
)
BANDS: Mapping[IndexBand, str] = MappingProxyType(
    {
        "usual": N_("nothing to add"),
        "caution": N_("caution"),
        "extreme_caution": N_("extreme caution"),
        "danger": N_("danger"),
        "extreme_danger": N_("extreme danger"),
    }
)


_BY_USE: Mapping[str, str] = {str(use): said for use, said in USES.items()}
_BY_BAND: Mapping[str, str] = {str(band): said for band, said in BANDS.items()}


def point_text(point: Finding, words: NullTranslations) -> str:
    """Return a point of the plan, or of a reading, as a sentence."""
    facts = dict(point.facts)
    for key, names in (("use", _BY_USE), ("band", _BY_BAND)):
        if key in facts:
            facts[key] = words.gettext(names[str(facts[key])])
    return sentence(msgspec.structs.replace(point, facts=facts), words.gettext)
