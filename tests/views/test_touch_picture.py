"""The picture of a draft: days, floors, blocks, and what can be done with the one chosen."""

from msgspec.structs import replace

from callroom.model import EventDay, Finding, State
from callroom.views.touch_picture import Held, TouchPicture, touch_picture
from tests.views.building import example_event, example_state

NOTHING = Held(heats=(), places=(), changed=())


def picture(state: State, chosen: str = "", held: Held = NOTHING) -> TouchPicture:
    plan = state.plan
    assert plan is not None
    found = (
        Finding("check.rest_short", "warning", "heat.w1-2", {"heat": "w1-2"}),
        Finding("check.thin_heat_unavoidable", "note", "heat.w1-2", {"heat": "w1-2"}),
    )
    return touch_picture(state, plan, found, held, chosen)


def test_every_heat_is_a_block_on_its_floor_with_lanes_and_troubles() -> None:
    state = example_state()
    assert state.plan is not None
    (day,) = picture(state).days
    blocks = {one.slot.id: one for floor in day.floors for one in floor.blocks}
    assert blocks.keys() == {heat.id for heat in state.plan.heats}
    for floor in day.floors:
        assert {one.slot.floor for one in floor.blocks} <= {floor.id}
        assert {one.lanes for one in floor.blocks} <= {floor.lanes}
    assert [name for name, one in blocks.items() if one.troubles] == ["w1-2"]
    assert blocks["w1-2"].troubles == 1


def test_what_is_held_and_changed_is_marked() -> None:
    held = Held(heats={"w1-1"}, places={("w1", "T13")}, changed={"w2-1"})
    shown = picture(example_state(), "w1-1", held)
    blocks = {one.slot.id: one for floor in shown.days[0].floors for one in floor.blocks}
    assert [name for name, one in blocks.items() if one.locked] == ["w1-1"]
    assert [name for name, one in blocks.items() if one.changed] == ["w2-1"]
    assert shown.chosen is not None
    assert [place.team for place, locked in shown.chosen.places if locked] == ["T13"]


def test_the_chosen_heat_offers_every_lane_of_its_workout_and_unlocked_heats() -> None:
    state = example_state()
    assert state.plan is not None
    held = Held(heats={"w2-1"}, places=(), changed=())
    chosen = picture(state, "w1-2", held).chosen
    assert chosen is not None
    assert "w2-1" not in {one.id for one in chosen.others}
    assert "w1-2" not in {one.id for one in chosen.others}
    assert {one.heat.workout.id for one in chosen.choices} == {"w1"}
    taken = sum(len(heat.lanes) for heat in state.plan.heats if heat.workout == "w1")
    assert sum(bool(one.team) for one in chosen.choices) == taken
    assert any(not one.team for one in chosen.choices)
    assert [one.rule for one in chosen.findings] == ["check.rest_short"]
    assert picture(state, "w9-9").chosen is None


def test_an_event_of_two_days_is_drawn_day_by_day() -> None:
    event = example_event()
    days = tuple(
        EventDay(id=name, name=name, opens_s=opens_s, closes_s=opens_s + 40_000)
        for name, opens_s in (("Saturday", 0), ("Sunday", 86_400))
    )
    state = example_state(replace(event, wishes=replace(event.wishes, days=days)))
    assert state.plan is not None
    last = state.plan.heats[-1]
    moved = replace(last, start_s=last.start_s + 86_400, end_s=last.end_s + 86_400)
    plan = replace(state.plan, heats=(*state.plan.heats[:-1], moved))
    saturday, sunday = picture(replace(state, plan=plan)).days
    assert (saturday.name, sunday.name) == ("Saturday", "Sunday")
    assert saturday.last_s < 86_400 <= sunday.first_s
    assert [one.slot.id for floor in sunday.floors for one in floor.blocks] == [last.id]
