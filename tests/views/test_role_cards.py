"""What the cards of the roles take from the event."""

from msgspec.structs import replace

from callroom.model import CrewMember
from callroom.model.person import Person
from callroom.model.rota import Duty, Rota, Shift
from callroom.views.role_cards import role_cards
from tests.views.building import example_state

PEOPLE = {one: Person(name=f"Name of {one}") for one in ("P1", "P2", "P3", "P4", "P5")}


def test_before_there_is_a_rota_those_who_can_are_named() -> None:
    crew = {
        "P1": CrewMember(person="P1", posts=("judge",)),
        "P2": CrewMember(person="P2", posts=("head_judge", "judge")),
        "P9": CrewMember(person="P9", posts=("head_judge",)),
    }
    view = role_cards(replace(example_state(), crew=crew, rota=None), PEOPLE)
    assert view.heads == ("Name of P2",)
    assert view.managers == ()


def test_the_rota_says_who_it_is_the_first_shift_first_and_no_more_than_three() -> None:
    shifts = tuple(
        Shift(id=f"s{start_s}", post=post, start_s=start_s, end_s=start_s + 60)
        for post, start_s in (("head_judge", 90), ("head_judge", 30), ("floor", 10))
    ) + tuple(Shift(id=f"f{at}", post="floor", start_s=at, end_s=at + 9) for at in range(20, 24))
    duties = (
        Duty(shift="s90", person="P1"),
        Duty(shift="s30", person="P2"),
        *(Duty(shift=f"f{20 + at}", person=f"P{at + 2}") for at in range(4)),
    )
    rota = Rota(plan_revision=3, shifts=shifts, duties=duties)
    crew = {"P5": CrewMember(person="P5", posts=("head_judge",))}
    view = role_cards(replace(example_state(), crew=crew, rota=rota), PEOPLE)
    assert view.heads == ("Name of P2", "Name of P1")
    assert view.managers == ("Name of P2", "Name of P3", "Name of P4")


def test_without_people_nobody_is_named_and_without_an_address_no_phone_is_led_astray() -> None:
    state = example_state()
    assert state.event is not None
    crew = {"P2": CrewMember(person="P2", posts=("head_judge",))}
    bare = replace(state, event=replace(state.event, address=""), plan=None, crew=crew)
    view = role_cards(bare)
    assert (view.heads, view.join) == ((), "")
    addressed = replace(state, event=replace(state.event, address="http://10.0.0.2:8000/"))
    assert role_cards(addressed).join == "http://10.0.0.2:8000/join"
