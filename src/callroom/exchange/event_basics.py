"""The first tables of an event file: the event itself, categories, divisions, floors."""

import re
from collections.abc import Iterator
from typing import Any, get_args

from callroom.exchange.event_day import EventDay, time_fault
from callroom.exchange.faults import shown
from callroom.exchange.toml_section import TEXT_LENGTH, Section
from callroom.model import (
    BadTime,
    Category,
    CategoryCount,
    Division,
    Floor,
    MovementRule,
    parse_clock,
)
from callroom.model.clock import local_instant
from callroom.model.mass import MassUnit

MOST_LANES = 200
FIRST_YEAR, LAST_YEAR = 2000, 2100
LARGEST_TEAM = 26
"""Athletes of one team: a place in a line-up is one letter."""

RESERVED_CATEGORIES = frozenset({"all", "anyone", "everyone", "pair"})
"""Words that say who does a task, or for whom a load is, and so cannot name a category."""

_CURRENCY = re.compile(r"[A-Z]{3}")
_LANGUAGE = re.compile(r"[a-z]{2,3}(?:-[A-Za-z0-9]{2,8})*")
_RULE = re.compile(r"[A-Za-z0-9_-]{1,40}(?:\.[A-Za-z0-9_-]{1,40})?")
_CATEGORY = re.compile(r"[a-z][a-z0-9_-]{0,39}")


def read_head(root: Section) -> tuple[dict[str, Any], EventDay | None]:
    """Return the plain fields of the event, and its day where that is sound."""
    if root.given("event") is None:
        root.missing("event")
        return {}, None
    head = root.section("event")
    head.needs("id", "name", "day", "zone", "start")
    unit: MassUnit = head.choice("mass_unit", get_args(MassUnit), "kg")
    fields: dict[str, Any] = {
        "id": head.identifier("id"),
        "name": head.text("name"),
        "venue": head.text("venue", longest=200),
        "cause": head.text("cause", longest=TEXT_LENGTH),
        "address": head.text("address", longest=200),
        "currency": _formed(head, "currency", "EUR", _CURRENCY, "toml.currency_form"),
        "language": _formed(head, "language", "en", _LANGUAGE, "toml.language_form"),
        "mass_unit": unit,
        "invented": head.flag("invented"),
    }
    day = _day(head, fields)
    head.close()
    return fields, day


def _formed(head: Section, key: str, default: str, form: re.Pattern[str], rule: str) -> str:
    value = head.text(key, default)
    if value and not form.fullmatch(value):
        head.fault(rule, key, given=shown(value))
    return value


def _day(head: Section, fields: dict[str, Any]) -> EventDay | None:
    """Fill in day, zone and start, and return them together if they fit each other."""
    day = head.date("day")
    if day is not None and not FIRST_YEAR <= day.year <= LAST_YEAR:
        head.fault("toml.day_far", "day", given=day.isoformat(), least=FIRST_YEAR, most=LAST_YEAR)
        day = None
    zone = head.text("zone")
    start = head.moment("start")
    if day is None or not zone or start is None:
        return None
    try:
        start_s = parse_clock(start if isinstance(start, str) else f"{start:%H:%M:%S}")
        starts_at = local_instant(day, start_s, zone)
    except BadTime as fault:
        key = "zone" if fault.rule == "time.unknown_zone" else "start"
        time_fault(head, key, fault, zone if key == "zone" else start)
        return None
    fields |= {"day": day, "zone": zone, "start_s": start_s}
    return EventDay(day, zone, starts_at)


def read_categories(root: Section) -> tuple[Category, ...]:
    """Return the classes that a team is composed of: ``women = "Women"``."""
    root.needs("categories")
    section = root.section("categories")
    for key in section.values:
        if key in RESERVED_CATEGORIES or not _CATEGORY.fullmatch(key):
            section.fault("toml.category_form", key, at_key=True, given=shown(key))
    return tuple(Category(id=key, name=section.text(key)) for key in section.values)


def read_divisions(root: Section, categories: frozenset[str]) -> tuple[Division, ...]:
    """Return the divisions in the order of the file."""
    root.needs("divisions")
    return tuple(
        _division(name, section, categories) for name, section in root.sections("divisions")
    )


def _division(name: str, section: Section, categories: frozenset[str]) -> Division:
    section.needs("name", "team")
    if name in categories or name == "all":
        section.fault("toml.division_is_category", at_key=True, given=shown(name))
    team = section.section("team")
    make_up = tuple(
        CategoryCount(category=category, count=team.whole(category, 0, 1, LARGEST_TEAM))
        for category in team.values
    )
    for part in make_up:
        if part.category not in categories:
            team.fault(
                "toml.no_category",
                part.category,
                at_key=True,
                given=shown(part.category),
                known=", ".join(sorted(categories)),
            )
    division = Division(
        id=name,
        name=section.text("name"),
        make_up=make_up,
        reserves=section.whole("reserves", 0, 0, LARGEST_TEAM),
        team_limit=section.whole("team_limit", 0),
        movement_rules=tuple(_movement_rules(section)),
    )
    if division.team_size + division.reserves > LARGEST_TEAM:
        section.fault("toml.team_large", "team", most=LARGEST_TEAM)
    section.close()
    return division


def _movement_rules(section: Section) -> Iterator[MovementRule]:
    """Give what a division allows and bars: ``"bar_muscle_up"``, ``"box_jump.step_up"``."""
    for key, allowed in (("allow", True), ("bar", False)):
        for text in section.texts(key) or ():
            movement, _, variation = text.partition(".")
            if not _RULE.fullmatch(text) or (allowed and not variation):
                section.fault("toml.movement_rule", key, given=shown(text))
            else:
                yield MovementRule(movement=movement, variation=variation, allowed=allowed)


def read_floors(root: Section) -> tuple[Floor, ...]:
    """Return the floors in the order of the file."""
    root.needs("floors")
    return tuple(_floor(name, section) for name, section in root.sections("floors"))


def _floor(name: str, section: Section) -> Floor:
    section.needs("name", "lanes")
    held = section.given("held_lanes")
    if held is not None and not isinstance(held, list):
        section.fault("toml.no_wholes", "held_lanes", given=shown(held))
    floor = Floor(
        id=name,
        name=section.text("name"),
        lanes=section.whole("lanes", 1, 1, MOST_LANES),
        first_lane=section.whole("first_lane", 1, 0, 1000),
        held_lanes=tuple(
            section.checked_whole(("held_lanes", number), lane, 0, 2000)
            for number, lane in enumerate(held if isinstance(held, list) else ())
        ),
        outdoor=section.flag("outdoor"),
    )
    section.close()
    return floor
