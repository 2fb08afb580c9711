"""The checklists come from the event's own content, keep their ticks, and every point has a why."""

from datetime import timedelta
from pathlib import Path

import pytest
from msgspec.structs import replace

from callroom.exchange.demo import demo_file
from callroom.exchange.event_file import read_event
from callroom.model import KitItem, State
from callroom.model.checks import OwnCheck, Tick
from callroom.model.money import Budget, Place
from callroom.model.safety import SafetyFacts
from callroom.model.side_programme import SIDE_KINDS, SideItem, SideKind, Span
from callroom.standards import library_with
from callroom.views import checklist as source
from callroom.views.checklist import checklist, open_before, permit_rule
from callroom.views.checklist_wording import check_text, why_text
from callroom.views.sentences.checklists import SENTENCES
from callroom.views.wording import ENGLISH

EVENT = read_event(demo_file("event.toml"))
MOVEMENTS = library_with(EVENT.movements).movements
HOUR = Span(start_s=3600, length_s=3600)


def item(kind: SideKind, *, power: bool = False) -> SideItem:
    return SideItem(id=kind, kind=kind, name=f"Our {kind}", spans=(HOUR,), power=power)


def full() -> State:
    """Everything that gives rise to a point at once."""
    return State(
        event=EVENT,
        kit=(KitItem(id="b", name="Bar", kind="bar", count=4, lender="Barn gym"),),
        side={kind: item(kind, power=kind == "music") for kind in SIDE_KINDS},
        safety=SafetyFacts(minors=True, alcohol=True),
        budget=Budget(places=(Place(id="box", name="Door", sort="cash"),)),
    )


def ids(state: State) -> set[str]:
    return {one.id for one in checklist(state, EVENT, MOVEMENTS)}


def test_an_event_asks_for_what_its_workouts_need() -> None:
    found = ids(State(event=EVENT))
    # Two workouts outdoors, a bar overhead, machines, and one that is kept back.
    assert found >= {
        "wet:w2",
        "wet:w4",
        "course:w4",
        "overhead",
        "collars",
        "chalk",
        "machines",
        "release",
        "shelter",
    }
    assert found.isdisjoint({"rig", "fetch:Barn gym", "raffle_ask", "guardians", "floats"})
    indoors = replace(EVENT, floors=tuple(replace(floor, outdoor=False) for floor in EVENT.floors))
    dry = {one.id for one in checklist(State(event=indoors), indoors, MOVEMENTS)}
    assert dry.isdisjoint({"wet:w2", "wet:w4", "shelter", "weather_read"})


def test_what_is_borrowed_sold_and_drawn_comes_with_its_points() -> None:
    assert ids(full()) >= {
        "fetch:Barn gym",
        "return:Barn gym",
        "raffle_ask",
        "raffle_tickets",
        "raffle_prizes",
        "allergens",
        "cables",
        "guardians",
        "alcohol_ask",
        "floats_counted",
        "tills",
    }


def test_points_are_dated_back_from_the_day() -> None:
    by = {one.id: one.by for one in checklist(full(), EVENT, MOVEMENTS)}
    assert by["raffle_ask"] == EVENT.day - timedelta(days=42)
    assert by["return:Barn gym"] == EVENT.day + timedelta(days=2)
    before = [one for one in checklist(full(), EVENT, MOVEMENTS) if one.phase == "before"]
    assert before == sorted(before, key=lambda one: one.by)


def test_a_tick_stays_with_its_point_and_closes_it() -> None:
    tick = Tick(seq=4, at_ms=0, actor="director")
    state = replace(full(), ticks={"fetch:Barn gym": tick, "wet:w2": tick, "long gone": tick})
    points = {one.id: one for one in checklist(state, EVENT, MOVEMENTS)}
    assert points["fetch:Barn gym"].tick == tick
    assert points["return:Barn gym"].tick is None
    still = {one.id for one in open_before(state, EVENT, MOVEMENTS)}
    assert "wet:w2" not in still
    assert "wet:w4" in still
    renamed = replace(
        EVENT,
        workouts=tuple(
            replace(one, name="Another name") if one.id == "w2" else one for one in EVENT.workouts
        ),
    )
    assert "wet:w2" not in {one.id for one in open_before(state, renamed, MOVEMENTS)}


def test_a_point_of_ones_own_is_dated_too() -> None:
    own = OwnCheck(id="own-1", phase="after", text="Wash the cups", days_before=-1, post="kit")
    (found,) = (
        one
        for one in checklist(State(event=EVENT, own_checks={"own-1": own}), EVENT, MOVEMENTS)
        if one.id == "own-1"
    )
    assert (found.by, found.post) == (EVENT.day + timedelta(days=1), "kit")
    assert check_text(found, ENGLISH) == "Wash the cups"
    assert why_text(found, ENGLISH) == ""


def test_every_point_says_what_and_why_and_none_is_said_for_nothing() -> None:
    text = Path(source.__file__).read_text(encoding="utf-8")
    said = {rule for rule in SENTENCES if not rule.endswith("_why")}
    assert {f"{rule}_why" for rule in said} == SENTENCES.keys() - said
    assert {rule for rule in said if f'"{rule}"' not in text} == set()
    for one in checklist(full(), EVENT, MOVEMENTS):
        assert one.says is not None
        assert not check_text(one, ENGLISH).startswith("check.")
        assert why_text(one, ENGLISH)


@pytest.mark.parametrize("kind", SIDE_KINDS)
def test_whom_to_ask_is_known_by_kind(kind: SideKind) -> None:
    rule = permit_rule(kind)
    assert rule == "" or rule in SENTENCES
    asked = {f"check.{one}" for one in ids(replace(full(), side={kind: item(kind)}))}
    assert not rule or rule in asked
