"""The kit of a day: bars of each category, what is short, changeovers that are long enough."""

from decimal import Decimal
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.bootstrap.kit_making import kit_day, with_longer_changeovers
from callroom.model import KitItem, Mass, Refusal, State
from callroom.views.kit_day import BarsOfFloor, kit_sheets, load_text, plates_text
from tests.views.building import example_state


def kg(amount: str) -> Mass:
    return Mass(amount=Decimal(amount), unit="kg")


def item(kind: Any, mass: str, count: int, **facts: Any) -> KitItem:
    return KitItem(
        id=f"{kind}_{mass}_{facts.get('category', '')}", name=kind, kind=kind, count=count,
        mass=kg(mass), **facts,
    )  # fmt: skip


KIT = (
    item("bar", "20", 12, category="men"),
    item("bar", "15", 12, category="women"),
    *(item("plate", mass, 60) for mass in ("10", "5", "2", "1", "0.5")),
)


def example(kit: tuple[KitItem, ...] = KIT) -> State:
    return example_state(kit=kit)


def test_each_category_lifts_with_its_own_bar() -> None:
    day = kit_day(example())
    bars = {
        loading.station.split()[0]: loading.bar
        for floor in day.floors
        for loading in floor.loadings
        if loading.station
    }
    assert bars == {"women": kg("15"), "men": kg("20")}
    assert not [one for one in day.short if one.rule.startswith("plates.")]


def test_what_is_short_is_found() -> None:
    few = tuple(replace(one, count=4) if one.kind == "bar" else one for one in KIT)
    rules = {one.rule for one in kit_day(example(few)).short}
    assert {"plates.bar_missing", "plates.lack"} <= rules


def test_changeovers_that_are_too_short_are_wished_longer() -> None:
    state = example()
    assert state.event is not None
    assert state.plan is not None
    assert kit_day(state, people=40).hurried == ()
    same = with_longer_changeovers(state, 40)
    assert same == state.event
    heats = tuple(
        replace(heat, end_s=heat.end_s + 120) if heat.id == "w3-1" else heat
        for heat in state.plan.heats
    )
    tight = replace(state, plan=replace(state.plan, heats=heats))
    (late,) = kit_day(tight, people=2).hurried
    assert late.rule == "plates.changeover_needs_people"
    assert late.facts["heat"] == "w3-2"
    short = replace(state.event.wishes, changeover_same_s=30, changeover_division_s=30)
    hasty = replace(tight, event=replace(state.event, wishes=short))
    longer = with_longer_changeovers(hasty, 2).wishes
    takes_s = late.facts["takes_s"]
    assert isinstance(takes_s, int)
    assert max(longer.changeover_same_s, longer.changeover_division_s) >= takes_s
    assert longer.changeover_division_s % 60 == 0


def test_without_a_plan_there_is_nothing_to_count() -> None:
    with pytest.raises(Refusal):
        kit_day(State())
    with pytest.raises(Refusal):
        kit_day(replace(example(), plan=None))


def test_a_lane_sheet_has_every_bar_of_the_lane_and_what_changes() -> None:
    state, day = example(), kit_day(example())
    floor = day.floors[0]
    shown = kit_sheets(
        state,
        [BarsOfFloor(floor=floor.floor, loadings=floor.loadings, changeovers=floor.changeovers)],
    ).floors[0]
    rows = [row for lane in shown.lanes for row in lane.rows]
    assert len([row for row in rows if not row.early]) == len(floor.loadings)
    assert all(row.moves for row in rows if row.early)
    assert sum(row.moves for row in rows) == sum(
        change.moves for sheet in floor.changeovers for change in sheet.changes
    )
    for lane in shown.lanes:
        assert [row.start_s for row in lane.rows] == sorted(row.start_s for row in lane.rows)


def test_plates_and_loads_are_written_as_they_are_said() -> None:
    assert plates_text([kg("20"), kg("2.5")]) == "20 + 2.5 kg"
    assert plates_text([kg("20"), Mass(amount=Decimal(10), unit="lb")]) == "20 kg + 10 lb"
    assert plates_text([]) == "–"
    assert load_text([kg("43"), Mass(amount=Decimal(95), unit="lb")]) == "43 kg / 95 lb"
