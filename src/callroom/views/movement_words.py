"""The words for what a standard is made of: landmarks, costs, units, capacities and the rest."""

from collections.abc import Mapping
from gettext import NullTranslations
from types import MappingProxyType

from callroom.model.words import N_

WORDS: Mapping[str, Mapping[str, str]] = MappingProxyType(
    {
        "cost": {
            "repetition": N_("the repetition"),
            "stretch": N_("the stretch since the last mark"),
            "stand_still": N_("nothing counts until the position is back"),
            "attempt": N_("the whole attempt"),
        },
        "count_unit": {
            "reps": N_("repetitions"),
            "metres": N_("metres"),
            "calories": N_("calories"),
            "seconds": N_("seconds"),
        },
        "load": {
            "none": N_("no load"),
            "bar": N_("a bar"),
            "one": N_("one piece"),
            "each": N_("one in each hand"),
            "object": N_("an object"),
        },
        "setting": {
            "load": N_("load"),
            "box_height": N_("box height"),
            "target_height": N_("target height"),
            "bar_height": N_("bar height"),
            "rope_height": N_("rope height"),
            "machine": N_("machine"),
        },
        "capacity": {
            "pull": N_("pulling"),
            "press": N_("pressing"),
            "hinge": N_("hinging"),
            "squat": N_("squatting"),
            "lunge": N_("lunging"),
            "carry": N_("carrying"),
            "jump": N_("jumping"),
            "core": N_("trunk"),
            "grip": N_("grip"),
            "load": N_("heavy load"),
            "engine": N_("engine"),
            "skill": N_("skill"),
            "balance": N_("balance"),
        },
        "usual": {"allowed": N_("usually allowed"), "barred": N_("usually barred")},
        "per": {"athlete": N_("each athlete at work"), "lane": N_("the lane, once")},
        "rate_unit": {
            "s_per_rep": N_("seconds a repetition"),
            "m_per_s": N_("metres a second"),
            "s_per_500m": N_("seconds for 500 m"),
            "kcal_per_min": N_("calories a minute"),
            "s": N_("seconds held"),
        },
        "level": {
            "advanced": N_("advanced"),
            "intermediate": N_("in the middle"),
            "measured": N_("measured"),
        },
        "who": {"all": N_("all"), "women": N_("women"), "men": N_("men")},
        "landmark": {
            "top_of_head": N_("top of head"),
            "chin": N_("chin"),
            "chest": N_("chest"),
            "back": N_("back"),
            "shoulder": N_("shoulder"),
            "elbow": N_("elbow"),
            "wrist": N_("wrist"),
            "hand": N_("hand"),
            "seat": N_("seat"),
            "hip": N_("hip"),
            "hip_crease": N_("hip crease"),
            "knee": N_("knee"),
            "top_of_knee": N_("top of knee"),
            "ankle": N_("ankle"),
            "heel": N_("heel"),
            "toes": N_("toes"),
            "foot": N_("foot"),
            "body": N_("whole body"),
            "ground": N_("ground"),
            "bar": N_("bar"),
            "load": N_("load"),
            "rig": N_("rig"),
            "rings": N_("rings"),
            "rope": N_("rope"),
            "box": N_("box"),
            "bench": N_("bench"),
            "target": N_("target"),
            "wall": N_("wall"),
            "line": N_("line"),
            "obstacle": N_("obstacle"),
            "machine": N_("machine"),
        },
    }
)


def word(group: str, value: str, words: NullTranslations) -> str:
    """Return the word for a value of a group, ``("landmark", "hip_crease")``."""
    return words.gettext(WORDS[group][value])


def choices(group: str, words: NullTranslations) -> tuple[tuple[str, str], ...]:
    """Return all values of a group with their words, in order."""
    return tuple((value, words.gettext(text)) for value, text in WORDS[group].items())
