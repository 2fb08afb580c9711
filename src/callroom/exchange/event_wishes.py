"""The wishes about the day in an event file: first heat, finish, rest, changeovers, pauses."""

from typing import Any, get_args, get_type_hints

from callroom.exchange.event_day import EventDay, moment_s
from callroom.exchange.event_wish_rows import read_wish_rows
from callroom.exchange.toml_section import Section
from callroom.model import Pause, Wishes

_USUAL = Wishes()
_KINDS = get_type_hints(Wishes)


def read_wishes(section: Section, day: EventDay | None) -> Wishes:
    """Return the wishes, times set against `day` (None: the day itself is faulty)."""
    changeover = section.section("changeover")
    first_s = moment_s(section, "first_heat", day)
    judges = section.whole("judges_at_once", 0, 1)
    wishes = Wishes(
        first_heat_s=_USUAL.first_heat_s if first_s is None else first_s,
        finish_by_s=moment_s(section, "finish_by", day),
        rest_s=section.duration_s("rest", _USUAL.rest_s),
        changeover_same_s=changeover.duration_s("same", _USUAL.changeover_same_s),
        changeover_division_s=changeover.duration_s("division", _USUAL.changeover_division_s),
        changeover_workout_s=changeover.duration_s("workout", _USUAL.changeover_workout_s),
        slot_s=section.duration_s("slot", _USUAL.slot_s),
        constant_rhythm=section.flag("constant_rhythm", default=_USUAL.constant_rhythm),
        pauses=tuple(_pause(name, row, day) for name, row in section.sections("pauses")),
        order=_choice(section, "order"),
        workout_order=_choice(section, "workout_order"),
        mixed_heats=section.flag("mixed_heats", default=_USUAL.mixed_heats),
        heat_pattern=_choice(section, "heat_pattern"),
        lane_pattern=_choice(section, "lane_pattern"),
        least_per_heat=section.whole("least_per_heat", _USUAL.least_per_heat, 1),
        judges_at_once=judges or None,
        draw_seed=section.whole("draw_seed", _USUAL.draw_seed),
        warm_up_s=section.duration_s("warm_up", 0),
        warm_up_heats=section.whole("warm_up_heats", 0),
        briefing_s=section.duration_s("briefing", 0),
        judges_from_crew=section.flag("judges_from_crew"),
        finals_last=section.flag("finals_last"),
        early=section.texts("early") or (),
        **read_wish_rows(section, day),
    )
    changeover.close()
    section.close()
    return wishes


def _choice(section: Section, key: str) -> Any:  # noqa: ANN401 - each field has its own words
    return section.choice(key, get_args(_KINDS[key]), getattr(_USUAL, key))


def _pause(name: str, section: Section, day: EventDay | None) -> Pause:
    section.needs("name", "at", "length")
    pause = Pause(
        id=name,
        name=section.text("name"),
        start_s=moment_s(section, "at", day) or 0,
        length_s=section.duration_s("length", 0),
        floors=section.texts("floors") or (),
    )
    section.close()
    return pause
