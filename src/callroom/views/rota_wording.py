"""Posts, and stretches of somebody's day, in words."""

from gettext import NullTranslations

from callroom.model.words import N_
from callroom.views.rota_day import DutyLine
from callroom.views.wording import ENGLISH, spans

_POSTS = {
    "head_judge": N_("head judge"),
    "judge": N_("judge"),
    "desk": N_("desk"),
    "call": N_("call room"),
    "floor": N_("floor manager"),
    "kit": N_("kit"),
    "announcer": N_("announcer"),
    "first_aid": N_("first aid"),
    "welcome": N_("welcome"),
}


def post(name: str, words: NullTranslations = ENGLISH) -> str:
    """Return a post by its name; one the director made up is said as it is written."""
    return words.gettext(_POSTS[name]) if name in _POSTS else name.replace("_", " ")


def where(line: DutyLine, words: NullTranslations = ENGLISH) -> str:
    """Return where somebody is: ``"Main floor, lane 3"``; empty where it is nowhere in particular."""
    said = [line.floor] if line.floor else []
    if line.lane is not None:
        said.append(words.gettext("lane {lane}").format(lane=line.lane))
        if line.seat > 1:
            said.append(words.gettext("judge {seat}").format(seat=line.seat))
    return ", ".join(said)


def heats(line: DutyLine, words: NullTranslations = ENGLISH) -> str:
    """Return the heats of a stretch by workout: ``"Set the table, heats 1–3"``."""
    by_workout: dict[str, list[int]] = {}
    for heat in line.heats:
        name = heat.workout.name or words.gettext("Workout {number}").format(
            number=heat.workout.number
        )
        by_workout.setdefault(name, []).append(heat.number)
    return "; ".join(
        words.ngettext(
            "{workout}, heat {numbers}", "{workout}, heats {numbers}", len(numbers)
        ).format(workout=name, numbers=spans(numbers))
        for name, numbers in by_workout.items()
    )


def hours(length_s: int) -> str:
    """Return a length of duty in hours and minutes: ``"3:45 h"``."""
    return f"{length_s // 3600}:{length_s % 3600 // 60:02} h"
