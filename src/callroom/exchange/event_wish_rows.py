"""Wishes that come in rows, in and out: days, rests, locks, shared kit and the like."""

from collections.abc import Iterator, Mapping
from typing import Any, get_args

from callroom.exchange.event_day import EventDay, moment_s
from callroom.exchange.quantities import write_duration
from callroom.exchange.toml_section import Section
from callroom.exchange.toml_text import TomlValue, toml_pairs, toml_value
from callroom.model import (
    Apart,
    FloorChoice,
    JudgeSpell,
    KitShare,
    Lock,
    OrderInto,
    RestBetween,
    SharedKit,
    TeamHours,
    Wishes,
)
from callroom.model import EventDay as DayOfEvent
from callroom.model.wish_rows import OrderRule

_ORDERS: tuple[OrderRule, ...] = get_args(OrderRule)


def read_wish_rows(section: Section, day: EventDay | None) -> dict[str, Any]:
    """Return the fields of ``Wishes`` that come in rows."""
    return {
        "waves": _waves(section),
        "days": tuple(_day(name, row, day) for name, row in section.sections("days")),
        "orders": tuple(_orders(section.section("orders"))),
        "rests": tuple(_rest(row) for row in section.rows("rests")),
        "floor_choices": tuple(_floors(section.section("floors"))),
        "shared_kit": tuple(_kit(name, row) for name, row in section.sections("kit")),
        "judge_spells": tuple(_spell(row, day) for row in section.rows("judges")),
        "locks": tuple(_lock(row, day) for row in section.rows("locks")),
        "team_hours": tuple(_hours(row, day) for row in section.rows("team_hours")),
        "apart": tuple(_apart(row) for row in section.rows("apart")),
    }


def _waves(section: Section) -> tuple[tuple[str, ...], ...]:
    value = section.given("waves")
    if value is None:
        return ()
    sound = isinstance(value, list) and all(
        isinstance(wave, list) and all(isinstance(name, str) for name in wave) for wave in value
    )
    if not sound or not isinstance(value, list):
        section.fault("toml.no_texts", "waves", given=str(value))
        return ()
    return tuple(tuple(wave) for wave in value)


def _day(name: str, section: Section, day: EventDay | None) -> DayOfEvent:
    section.needs("name", "opens", "closes")
    found = DayOfEvent(
        id=name,
        name=section.text("name"),
        opens_s=moment_s(section, "opens", day) or 0,
        closes_s=moment_s(section, "closes", day) or 0,
        workouts=section.texts("workouts") or (),
    )
    section.close()
    return found


def _orders(section: Section) -> Iterator[OrderInto]:
    for workout in section.values:
        yield OrderInto(workout=workout, order=section.choice(workout, _ORDERS, "kept"))


def _rest(section: Section) -> RestBetween:
    section.needs("before", "after", "rest")
    found = RestBetween(
        before=section.text("before"),
        after=section.text("after"),
        rest_s=section.duration_s("rest", 0),
    )
    section.close()
    return found


def _floors(section: Section) -> Iterator[FloorChoice]:
    for workout in section.values:
        yield FloorChoice(workout=workout, floors=section.texts(workout) or ())


def _kit(name: str, section: Section) -> SharedKit:
    section.needs("name", "count", "per_lane")
    shares = section.section("per_lane")
    found = SharedKit(
        id=name,
        name=section.text("name"),
        count=section.whole("count", 1),
        shares=tuple(
            KitShare(workout=workout, per_lane=shares.whole(workout, 1, 1))
            for workout in shares.values
        ),
    )
    section.close()
    return found


def _spell(section: Section, day: EventDay | None) -> JudgeSpell:
    section.needs("from", "until", "judges")
    found = JudgeSpell(
        from_s=moment_s(section, "from", day) or 0,
        until_s=moment_s(section, "until", day) or 0,
        judges=section.whole("judges", 0),
    )
    section.close()
    return found


def _lock(section: Section, day: EventDay | None) -> Lock:
    found = Lock(
        workout=section.text("workout"),
        team=section.text("team"),
        division=section.text("division"),
        heat=section.whole("heat", 0, 1),
        at_s=moment_s(section, "at", day),
        floor=section.text("floor"),
        lane=section.whole("lane", 0) if "lane" in section else None,
    )
    section.close()
    return found


def _hours(section: Section, day: EventDay | None) -> TeamHours:
    section.needs("team")
    found = TeamHours(
        team=section.text("team"),
        from_s=moment_s(section, "from", day),
        until_s=moment_s(section, "until", day),
    )
    section.close()
    return found


def _apart(section: Section) -> Apart:
    section.needs("teams")
    found = Apart(teams=section.texts("teams") or (), gap_s=section.duration_s("gap", 0))
    section.close()
    return found


def write_wish_rows(wishes: Wishes, day: EventDay) -> Iterator[str]:
    """Yield the tables of the wishes that come in rows."""
    for one in wishes.days:
        listed: Mapping[str, TomlValue] = {"workouts": list(one.workouts)} if one.workouts else {}
        opens, closes = day.written(one.opens_s), day.written(one.closes_s)
        named: dict[str, TomlValue] = {"name": one.name, "opens": opens, "closes": closes}
        yield f"[wishes.days.{one.id}]\n" + toml_pairs(named | dict(listed))
    if wishes.orders:
        yield "[wishes.orders]\n" + toml_pairs({one.workout: one.order for one in wishes.orders})
    if wishes.floor_choices:
        choices = {one.workout: list(one.floors) for one in wishes.floor_choices}
        yield "[wishes.floors]\n" + "".join(
            f"{workout} = {toml_value(list(floors))}\n" for workout, floors in choices.items()
        )
    for kit in wishes.shared_kit:
        shares = {one.workout: one.per_lane for one in kit.shares}
        yield f"[wishes.kit.{kit.id}]\n" + toml_pairs(
            {"name": kit.name, "count": kit.count, "per_lane": shares}
        )
    for name, rows in _rows(wishes, day):
        for row in rows:
            yield f"[[wishes.{name}]]\n" + toml_pairs(row)


def _rows(wishes: Wishes, day: EventDay) -> Iterator[tuple[str, list[dict[str, TomlValue]]]]:
    yield "rests", [_written_rest(one) for one in wishes.rests]
    yield "judges", [_written_spell(one, day) for one in wishes.judge_spells]
    yield "locks", [_written_lock(one, day) for one in wishes.locks]
    yield "team_hours", [_written_hours(one, day) for one in wishes.team_hours]
    yield "apart", [_written_apart(one) for one in wishes.apart]


def _written_rest(rest: RestBetween) -> dict[str, TomlValue]:
    return {"before": rest.before, "after": rest.after, "rest": write_duration(rest.rest_s)}


def _written_spell(spell: JudgeSpell, day: EventDay) -> dict[str, TomlValue]:
    hours = _moments({"from": spell.from_s, "until": spell.until_s}, day)
    return hours | {"judges": spell.judges}


def _written_lock(lock: Lock, day: EventDay) -> dict[str, TomlValue]:
    values: dict[str, TomlValue] = {
        "workout": lock.workout,
        "team": lock.team,
        "division": lock.division,
        "heat": lock.heat,
        "floor": lock.floor,
    }
    lane: dict[str, TomlValue] = {} if lock.lane is None else {"lane": lock.lane}
    given = {key: value for key, value in values.items() if value}
    return given | lane | _moments({"at": lock.at_s}, day)


def _written_hours(hours: TeamHours, day: EventDay) -> dict[str, TomlValue]:
    team: dict[str, TomlValue] = {"team": hours.team}
    return team | _moments({"from": hours.from_s, "until": hours.until_s}, day)


def _written_apart(apart: Apart) -> dict[str, TomlValue]:
    gap: dict[str, TomlValue] = {"gap": write_duration(apart.gap_s)} if apart.gap_s else {}
    teams: dict[str, TomlValue] = {"teams": list(apart.teams)}
    return teams | gap


def _moments(times: Mapping[str, int | None], day: EventDay) -> dict[str, TomlValue]:
    return {key: day.written(time_s) for key, time_s in times.items() if time_s is not None}
