"""The check-in on pages: found by a part of a name or a code, names only where nobody reads along."""

import re
from typing import Any

import pytest
from msgspec.structs import replace

from callroom.actions import day, entering
from callroom.actions.money import set_budget
from callroom.model import Role, milliseconds
from callroom.model.entering import Entering
from callroom.model.money import Budget, BudgetLine, Place, Scenario
from callroom.model.person import Person
from callroom.views.check_in import check_in_desk, found_by_name, plain
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token

NETWORK: dict[str, Any] = {"peer": "192.168.1.50", "base_url": "http://192.168.1.20:8000"}
NAME = "Invented Ingrid"


def book_to_check_in() -> FakeBook:
    """The example event with a text to agree to and a fee; everybody but one of T13 has agreed."""
    book = example_book()
    book.do(DIRECTOR, entering.set_entering(Entering(consent="Names on a list.")))
    budget = Budget(
        lines=(BudgetLine(id="fees", name="Fees", side="income", sort="entries", per_team=8_000),),
        places=(Place(id="till", name="Till at the door", sort="cash"),),
        scenarios=tuple(Scenario(id=name, name=name) for name in ("few", "some", "many")),
    )
    book.do(DIRECTOR, set_budget(budget))
    first = book.state.teams["T13"].athletes[0].person
    book.beside["people"] = {
        one.person: Person(name=NAME, waiver="" if one.person == first else "by hand, in May")
        for team in book.state.teams.values()
        for one in team.athletes
    }
    return book


def press(book: FakeBook, role: Role, do: str, team: str = "T13", **fields: str) -> Any:
    form = {"form_token": form_token(role), "do": do, **fields}
    with client_of(book, role) as client:
        return client.post(f"/check-in/{team}", data=form, follow_redirects=False)


def test_a_part_of_a_name_without_case_or_accents_finds_a_team() -> None:
    book = book_to_check_in()
    desk = check_in_desk(book.state, {})
    name = book.state.teams["T13"].name
    assert found_by_name(desk, f" {name.upper()[:5]} ")[0].open.name.startswith(name[:5])
    assert [one.open.team for one in found_by_name(desk, "t13")] == ["T13"]
    assert found_by_name(desk, "  ") == ()
    assert found_by_name(desk, "no such team at all") == ()
    assert plain("Ñandú ÉLITE") == "nandu elite"
    starts = [one.first.start_s for one in desk.teams if one.first is not None]
    assert starts == sorted(starts)


def test_one_find_and_one_press_check_a_team_in() -> None:
    book = book_to_check_in()
    with client_of(book, "crew") as client:
        page = client.get("/check-in", params={"find": book.state.teams["T13"].name})
        assert page.url.path == "/check-in/T13"
        keys = re.findall(r'name="key" value="([^"]+)"', page.text)
        form = {"form_token": form_token("crew"), "do": "whole", "key": keys[0]}
        answer = client.post("/check-in/T13", data=form)
        again = client.post("/check-in/T13", data=form)
    assert "all here, pack given." in answer.text
    assert again.status_code == 200
    noted = book.state.check_ins["T13"]
    assert set(noted.here) == {one.person for one in book.state.teams["T13"].athletes}
    assert noted.pack_seq is not None


def test_names_are_shown_at_the_machine_to_the_desk_alone() -> None:
    book = book_to_check_in()
    shown = []
    for role, options in (("desk", {}), ("crew", {}), ("desk", NETWORK)):
        with client_of(book, role, **options) as client:  # type: ignore[arg-type]
            page = client.get("/check-in/T13").text
            shown.append(NAME in page)
            assert "signature missing" in page
    assert shown == [True, False, False]


def test_whoever_holds_no_role_is_led_to_the_day_of_the_team() -> None:
    with client_of(book_to_check_in()) as client:
        assert client.get("/check-in/T13").url.path == "/team/T13"
        assert client.get("/check-in").status_code == 401


def test_a_signature_and_the_fee_are_taken_at_the_desk_once() -> None:
    book = book_to_check_in()
    first = book.state.teams["T13"].athletes[0].person
    assert press(book, "crew", f"self:{first}").status_code == 403
    assert press(book, "desk", f"self:{first}").status_code == 303
    fee = {"line": "fees", "place": "till", "amount": "80"}
    assert press(book, "desk", "fee", **fee).status_code == 303
    second = press(book, "desk", "fee", **fee)
    assert second.status_code == 422
    assert "somebody may just have booked it" in second.text
    (booking,) = book.state.bookings.values()
    assert booking.deed.team == "T13"  # type: ignore[union-attr]
    assert booking.deed.day == book.state.event.day  # type: ignore[union-attr]
    press(book, "desk", "whole")
    with client_of(book, "desk") as client:
        assert "All here, pack given, nothing open." in client.get("/check-in/T13").text


def test_the_fee_is_no_business_of_a_helper() -> None:
    with client_of(book_to_check_in(), "crew") as client:
        page = client.get("/check-in/T13").text
    assert "fee to pay, at the desk" in page
    assert "80" not in re.sub(r"<[^>]*>", "", page[page.index("<main") : page.index("</main")])


def test_a_walk_up_waits_for_the_director() -> None:
    book = book_to_check_in()
    event = book.state.event
    assert event is not None
    form = {
        "form_token": form_token("desk"),
        "name": "Walked <in>",
        "division": event.divisions[0].id,
    }
    with client_of(book, "desk") as client:
        page = client.post("/check-in", data=form)
    assert "Walked &lt;in&gt;" in page.text
    (waiting,) = book.state.enrolments.values()
    assert waiting.status == "waiting"
    book.do(DIRECTOR, entering.accept(waiting.team.id))
    assert book.state.teams[waiting.team.id].name == "Walked <in>"


@pytest.mark.parametrize("do", ["", "here:", "here:stranger", "nonsense"])
def test_what_no_button_asks_changes_nothing(do: str) -> None:
    book = book_to_check_in()
    before = len(book.entries)
    assert press(book, "desk", do).status_code == 422
    assert len(book.entries) == before


def test_the_director_gives_a_late_team_free_lanes_as_they_were_offered() -> None:
    book = book_to_check_in()
    model = book.state.teams["T13"]
    late = replace(model, id="L1", name="Latecomers", athletes=(), captain="")
    book.do(DIRECTOR, entering.enter_by_hand(late, {}))
    event, plan = book.state.event, book.state.plan
    assert event is not None
    assert plan is not None
    book.set_now(milliseconds(event.instant(0)) - 7_200_000)
    # A lane is free where a team of the division withdrew.
    book.do(DIRECTOR, day.withdraw_team("T13", "ill"))
    with client_of(book, "desk") as client:
        assert "send its captain to the director" in client.get("/check-in/L1").text
    with client_of(book, "director") as client:
        page = client.get("/check-in/L1").text
    assert "These lanes are free." in page
    shown = re.findall(r'name="shown" value="([^"]+)"', page)[0]
    assert press(book, "desk", "lanes", "L1", shown=shown).status_code == 403
    other = press(book, "director", "lanes", "L1", shown="w1-1:9")
    assert "not free any more" in other.text
    assert press(book, "director", "lanes", "L1", shown=shown).status_code == 303
    assert book.state.plan is not None
    assert len(book.state.plan.day_of("L1")) == len(plan.day_of("T13"))
