"""The side programme: what everybody sees of it, and what does not go."""

import pytest
from msgspec.structs import replace

from callroom.actions import ground as ask
from callroom.model import CrewMember, Duty, Event, Plan, Refusal, Rota, Shift, State
from callroom.model.ground import Ground, Space, Spot
from callroom.model.side_programme import SideItem, SideKind, Span
from callroom.views.sentences import SENTENCES
from callroom.views.side_programme import side_findings, side_lines, side_times
from tests.views.building import example_state
from tests.web.building import DIRECTOR, FakeBook

HOUR = 3600


def item(
    id_: str = "one", kind: SideKind = "stall", at_s: int = 0, for_s: int = HOUR, **more: object
) -> SideItem:
    made = SideItem(
        id=id_, kind=kind, name=f"Thing {id_}", spans=(Span(start_s=at_s, length_s=for_s),)
    )
    return replace(made, **more)


def with_items(*items: SideItem, **changes: object) -> tuple[State, Event, Plan]:
    state = replace(example_state(), side={one.id: one for one in items}, **changes)
    assert state.event is not None
    assert state.plan is not None
    return state, state.event, state.plan


def rules(*items: SideItem, **changes: object) -> set[str]:
    state, event, _ = with_items(*items, **changes)
    found = side_findings(state, event)
    assert {one.rule for one in found} <= SENTENCES.keys()
    return {one.rule.removeprefix("side.") for one in found}


def test_everybody_sees_what_is_public_in_order_of_time() -> None:
    hall = Space(id="h", name="Hall", x_mm=0, y_mm=0, length_mm=9, width_mm=9)
    table = Spot(id="t", kind="stall", name="Table", x_mm=0, y_mm=0, length_mm=1, width_mm=1)
    twice = (Span(start_s=7_200, length_s=60), Span(start_s=0, length_s=60))
    cakes = replace(item("cakes", spot="t"), spans=twice)
    secret = item("keys", public=False)
    state, event, _ = with_items(
        cakes,
        secret,
        item("far", at_s=600, spot="gone", place="Gate"),
        ground=Ground(spaces=(hall,), spots=(table,)),
    )
    assert [(one.id, one.start_s, one.place) for one in side_times(state)] == [
        ("cakes", 0, "Table"),
        ("far", 600, "Gate"),
        ("cakes", 7_200, "Table"),
    ]
    assert "keys" in {one.id for one in side_times(state, public=False)}
    assert [one.person for one in side_lines(state, event, {})] == ["", "", ""]


def test_a_thing_that_nobody_leads_and_that_is_nowhere_says_so() -> None:
    assert rules(item()) >= {"nobody", "no_place"}


def test_awards_come_after_the_last_heat() -> None:
    _, _, plan = with_items()
    early = item("awards", "awards", plan.finish_s - 60, place="Stage")
    assert "awards_early" in rules(early)
    assert "awards_early" not in rules(
        replace(early, spans=(Span(start_s=plan.finish_s, length_s=HOUR),))
    )


def test_a_speech_over_heats_is_heard_by_nobody_and_a_stall_does_not_mind() -> None:
    _, _, plan = with_items()
    heat = plan.heats[0]
    assert "over_heats" in rules(item("talk", "speech", heat.start_s, 60))
    assert "over_heats" not in rules(item("talk", "stall", heat.start_s, 60))


def test_a_floor_taken_by_heats_is_an_error_until_the_plan_leaves_it_free() -> None:
    _, _, plan = with_items()
    heat = plan.heats[0]
    show = item("show", "attraction", heat.start_s, 600, floors=(heat.floor,))
    assert {"floor_taken", "not_pinned"} <= rules(show)
    free = item("show", "attraction", plan.finish_s + 60, 600, floors=(heat.floor,))
    assert "floor_taken" not in rules(free)


def test_one_click_keeps_a_floor_free_and_a_moved_thing_moves_its_pause() -> None:
    book = FakeBook(example_state())
    event = book.state.event
    assert event is not None
    floor, before = event.floors[0].id, event.wishes.pauses
    show = item("show", at_s=9 * HOUR, floors=(floor,))
    book.do(DIRECTOR, ask.set_side(show))
    book.do(DIRECTOR, ask.keep_floor_free(book.state, "show"))
    assert book.state.event is not None
    (pause,) = (one for one in book.state.event.wishes.pauses if one not in before)
    assert (pause.start_s, pause.length_s, pause.floors) == (9 * HOUR, HOUR, (floor,))
    (line,) = side_lines(book.state, book.state.event, {})
    assert line.pinned
    book.do(DIRECTOR, ask.set_side(replace(show, spans=(Span(start_s=10 * HOUR, length_s=60),))))
    (line,) = side_lines(book.state, book.state.event, {})
    assert not line.pinned
    book.do(DIRECTOR, ask.keep_floor_free(book.state, "show"))
    pauses = book.state.event.wishes.pauses
    assert [one.start_s for one in pauses if one not in before] == [10 * HOUR]


def test_a_thing_without_a_floor_keeps_none_free() -> None:
    state, _, _ = with_items(item("cakes"))
    with pytest.raises(Refusal, match=r"side\.no_floor"):
        ask.keep_floor_free(state, "cakes")


def test_who_is_in_charge_must_be_free_for_it() -> None:
    _, _, plan = with_items()
    team = plan.heats[0].teams[0]
    member = CrewMember(person="c1", posts=("desk",), team=team, free_until_s=600)
    shift = Shift(id="s", post="desk", start_s=0, end_s=HOUR)
    duty = Duty(shift="s", person="c1")
    rota = Rota(plan_revision=1, shifts=(shift,), duties=(duty,))
    lead = item("talk", at_s=0, for_s=plan.finish_s, person="c1", place="Stage")
    assert rules(lead, crew={"c1": member}, rota=rota) >= {
        "person_on_duty",
        "person_competes",
        "person_away",
    }
    assert "person_left" in rules(lead)
    spare = CrewMember(person="c1", posts=("desk",))
    assert rules(lead, crew={"c1": spare}) == set()


def test_two_things_share_neither_a_spot_nor_a_person() -> None:
    one, other = (item(id_, spot="t", person="c1") for id_ in ("a", "b"))
    assert {"same_spot", "same_person"} <= rules(one, other)
    later = replace(other, spans=(Span(start_s=HOUR, length_s=60),))
    assert {"same_spot", "same_person"}.isdisjoint(rules(one, later))
