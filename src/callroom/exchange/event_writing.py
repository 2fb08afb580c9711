"""An Event as the text of an `event.toml`; ``event_file`` reads it back.

Everything that is as usual is left out, so that what a director chose stands out. The text
reads back as the same event if the event is one that a file can describe: without faults,
its loads listed division by division, its texts without blanks around them.
"""

from typing import Any

import msgspec

from callroom.exchange.event_day import EventDay
from callroom.exchange.event_rules import UNTIL_ERASED
from callroom.exchange.event_wish_rows import write_wish_rows
from callroom.exchange.event_work_writing import write_workout
from callroom.exchange.movement_writing import write_movement
from callroom.exchange.quantities import write_duration
from callroom.exchange.toml_text import Column, TomlValue, chosen, toml_pairs
from callroom.model import Division, Event, Floor, Pause, Points, Rules, Wishes

Values = dict[str, TomlValue]


def write_event(event: Event) -> str:
    """Return `event` as TOML text of the format that ``docs/formats.md`` describes."""
    day = EventDay(event.day, event.zone, event.starts_at)
    tables = [
        "format = 1\n",
        "[event]\n" + toml_pairs(_head(event, day)),
        "[categories]\n" + toml_pairs({one.id: one.name for one in event.categories}),
        *(f"[divisions.{one.id}]\n" + toml_pairs(_division(one)) for one in event.divisions),
        *(f"[floors.{one.id}]\n" + toml_pairs(_floor(one)) for one in event.floors),
        *(write_workout(one, day) for one in event.workouts),
        *(write_movement(one) for one in event.movements),
        *_table("rules", _rules(event.rules)),
        *_table("rules.points", _points(event.rules.points)),
        *_table("wishes", _wishes(event.wishes, day)),
        *(
            f"[wishes.pauses.{one.id}]\n" + toml_pairs(_pause(one, day))
            for one in event.wishes.pauses
        ),
        *write_wish_rows(event.wishes, day),
    ]
    return "\n".join(tables)


def _table(name: str, values: Values) -> list[str]:
    return [f"[{name}]\n" + toml_pairs(values)] if values else []


def _head(event: Event, day: EventDay) -> Values:
    usual = {"venue": "", "cause": "", "address": "", "currency": "EUR", "language": "en"}
    told: Values = {
        key: getattr(event, key) for key, value in usual.items() if getattr(event, key) != value
    }
    flags: Values = {"invented": True} if event.invented else {}
    unit: Values = {"mass_unit": event.mass_unit} if event.mass_unit != "kg" else {}
    return {
        "id": event.id,
        "name": event.name,
        "day": event.day,
        "zone": event.zone,
        "start": day.written(0),
        **told,
        **unit,
        **flags,
    }


def _division(division: Division) -> Values:
    team: Values = {part.category: part.count for part in division.make_up}
    rest = chosen(division, (Column("reserves", 0), Column("team_limit", 0)))
    return {"name": division.name, "team": team, **rest, **_movement_rules(division)}


def _movement_rules(division: Division) -> Values:
    told: Values = {}
    for key, allowed in (("allow", True), ("bar", False)):
        listed: list[TomlValue] = [
            f"{rule.movement}.{rule.variation}" if rule.variation else rule.movement
            for rule in division.movement_rules
            if rule.allowed == allowed
        ]
        if listed:
            told[key] = listed
    return told


def _floor(floor: Floor) -> Values:
    columns = (
        Column("first_lane", 1),
        Column("held_lanes", (), write=list),
        Column("outdoor", usual=False),
    )
    return {"name": floor.name, "lanes": floor.lanes, **chosen(floor, columns)}


def _switches(thing: msgspec.Struct, fields: tuple[str, ...]) -> tuple[Column, ...]:
    usual = type(thing)()
    return tuple(Column(field, getattr(usual, field)) for field in fields)


def _spans(thing: msgspec.Struct, fields: tuple[str, ...]) -> tuple[Column, ...]:
    usual = type(thing)()
    return tuple(
        Column(field, getattr(usual, field), field.removesuffix("_s"), write_duration)
        for field in fields
    )


def _rules(rules: Rules) -> Values:
    words = (
        "absent_overall",
        "after_withdrawal",
        "after_disqualification",
        "modified_work",
        "short_handed",
        "rerun_counts",
        "late_appeals",
    )
    columns = (
        Column("tie_chain", Rules().tie_chain, write=list),
        Column("embargo", (), write=list),
        *_switches(rules, words),
        *_spans(rules, ("appeal_window_s", "substitution_deadline_s")),
        Column("substitutions", None),
        Column("keep_people_days", Rules().keep_people_days, write=_keep_days),
    )
    return chosen(rules, columns)


def _keep_days(days: int | None) -> int | str:
    return UNTIL_ERASED if days is None else days


def _points(points: Points) -> Values:
    columns = (
        *_switches(points, ("kind", "first", "step")),
        Column("table", (), write=list),
        Column("formula", ""),
    )
    return chosen(points, columns)


def _wishes(wishes: Wishes, day: EventDay) -> Values:
    changeover = {
        field.removeprefix("changeover_"): text
        for field, text in chosen(
            wishes,
            _spans(wishes, ("changeover_same_s", "changeover_division_s", "changeover_workout_s")),
        ).items()
    }
    words = (
        "constant_rhythm",
        "order",
        "workout_order",
        "mixed_heats",
        "heat_pattern",
        "lane_pattern",
        "least_per_heat",
        "judges_at_once",
        "draw_seed",
        "warm_up_heats",
        "judges_from_crew",
        "finals_last",
    )
    return {
        **chosen(wishes, (Column("first_heat_s", 0, "first_heat", day.written),)),
        **chosen(wishes, (Column("finish_by_s", None, "finish_by", day.written),)),
        **chosen(wishes, _spans(wishes, ("rest_s",))),
        **({"changeover": changeover} if changeover else {}),
        **chosen(wishes, _spans(wishes, ("slot_s",))),
        **chosen(wishes, _spans(wishes, ("warm_up_s", "briefing_s"))),
        **chosen(wishes, _switches(wishes, words)),
        **chosen(wishes, (Column("early", (), write=list), Column("waves", (), write=_lists))),
    }


def _lists(rows: tuple[tuple[str, ...], ...]) -> list[Any]:
    return [list(row) for row in rows]


def _pause(pause: Pause, day: EventDay) -> Values:
    floors: Any = {"floors": list(pause.floors)} if pause.floors else {}
    return {
        "name": pause.name,
        "at": day.written(pause.start_s),
        "length": write_duration(pause.length_s),
        **floors,
    }
