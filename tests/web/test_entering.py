"""The public form: a team enters once, sees its faults, keeps what it typed, and has a link."""

import re
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path
from typing import Any

import httpx
import pytest
from msgspec.structs import replace

from callroom.actions import entering, money
from callroom.bootstrap.books import open_book
from callroom.bootstrap.clocks import SteppedClock
from callroom.bootstrap.team_links import token_for
from callroom.journal import PEOPLE
from callroom.model.entering import Entering
from callroom.model.money import Budget, BudgetLine, Place, Scenario
from callroom.model.paying import PayTo
from callroom.web.throttle import Throttle
from tests.actions.test_entering import CLOSES_MS, OPENS_MS
from tests.actions.test_entering import open_book as entering_book
from tests.bootstrap.day_books import day_book
from tests.web.building import DIRECTOR, FakeBook, client_of, served

NETWORK: dict[str, Any] = {"peer": "192.168.1.50", "base_url": "http://192.168.1.20:8000"}
WHOLE = {
    "team": "Late Risers",
    "captain": "A",
    "email": "kim@example.org",
    "name-A": "Kim Sample",
    "emergency-A": "Lou, 0170 1",
}


def asked_of(page: str) -> dict[str, str]:
    """What the form of a page sends by itself."""
    names = ("form_token", "key", "basis")
    found = {name: re.search(rf'name="{name}" value="([^"]*)"', page) for name in names}
    return {name: one[1].replace("&#34;", '"') for name, one in found.items() if one is not None}


def send(client: Any, path: str = "/enter/pairs", **fields: str) -> Any:
    return client.post(path, data={**asked_of(client.get(path).text), **WHOLE, **fields})


def change_form(client: Any, path: str) -> dict[str, str]:
    """What the form that changes a team sends by itself."""
    page = client.get(path).text
    return asked_of(page[page.index('id="change"') :])


def test_a_team_enters_is_told_so_and_gets_its_link() -> None:
    book = entering_book(limit=6, consent="Names on a list.", shirt_sizes=("S", "M"))
    with client_of(book) as client:
        answer = send(client, **{"agree-A": "on", "shirt-A": "M", "phone": "0170 2"})
    assert "Your team is in." in answer.text
    assert "/enter/team/" in str(answer.url)
    team = book.state.teams["T17"]
    person = book.people()[team.captain]
    assert (team.name, team.division, len(team.athletes)) == ("Late Risers", "pairs", 1)
    assert (person.name, person.email, person.phone) == ("Kim Sample", "kim@example.org", "0170 2")
    assert (person.shirt, person.agreed.terms, person.agreed.by) == ("M", 1, "self")
    assert "One place of the line-up is free." in answer.text
    written = b"".join(entry.data for entry, _ in book.entries)
    assert b"Kim" not in written
    assert b"example.org" not in written


def test_every_fault_stands_beside_its_field_and_nothing_typed_is_lost() -> None:
    book = entering_book(consent="Names on a list.", ages_in=("pairs",))
    with client_of(book) as client:
        answer = send(
            client, email="kim at home", **{"born-A": "30.02.2001", "name-B": "Ada <i>", "team": ""}
        )
    assert answer.status_code == 422
    for name in ("team", "email", "born-A", "agree-A"):
        assert f'id="{name}-fault"' in answer.text
    assert 'value="kim at home"' in answer.text
    assert 'value="Ada &lt;i&gt;"' in answer.text
    assert "Write it like 2001-04-30" in answer.text
    assert not book.state.enrolments


def test_a_minor_needs_a_guardian_and_then_the_guardian_agrees() -> None:
    book = entering_book(consent="Names on a list.")
    with client_of(book) as client:
        refused = send(client, **{"minor-A": "on", "agree-A": "on"})
        taken = send(client, **{"minor-A": "on", "agree-A": "on", "guardian-A": "Jo, 0170 3"})
    assert "A guardian agrees for somebody under age" in refused.text
    assert "Your team is in." in taken.text
    person = book.people()[book.state.teams["T17"].captain]
    assert (person.guardian, person.agreed.by) == ("Jo, 0170 3", "guardian")


def test_a_form_sent_twice_makes_one_team_with_one_link() -> None:
    book = entering_book()
    with client_of(book) as client:
        data = {**asked_of(client.get("/enter/pairs").text), **WHOLE}
        first = client.post("/enter/pairs", data=data)
        again = client.post("/enter/pairs", data={**data, "team": "Typed anew after going back"})
    assert first.url == again.url
    assert len(book.state.enrolments) == 1
    assert token_for(data["key"]) in str(first.url)
    assert data["key"] not in "".join(entry.key for entry, _ in book.entries)


def test_over_a_network_others_can_read_no_detail_is_taken() -> None:
    book = entering_book()
    with client_of(book, **NETWORK) as client:
        page = client.get("/enter/pairs").text
        assert "teams enter at the desk" in page
        assert "<form" not in page[page.index("<main") : page.index("</main")]
        answer = client.post("/enter/pairs", data={**asked_of(page), **WHOLE})
        own = client.get("/enter/team/anything")
    assert (answer.status_code, own.status_code) == (403, 403)
    assert not book.state.enrolments


def test_a_browser_that_lost_its_place_keeps_what_was_typed() -> None:
    book = entering_book()
    with client_of(book) as client:
        data = {**asked_of(client.get("/enter/pairs").text), **WHOLE, "form_token": "stale"}
        lost = client.post("/enter/pairs", data=data)
        assert "This browser lost its place" in lost.text
        assert 'value="Kim Sample"' in lost.text
        assert not book.state.enrolments
        again = client.post("/enter/pairs", data={**WHOLE, **asked_of(lost.text)})
    assert "Your team is in." in again.text


def test_programs_are_kept_out() -> None:
    book = entering_book()
    with client_of(book) as client:
        assert send(client, website="http://example.org").status_code == 422
        long = send(client, gym="x" * 70_000)
        assert long.status_code == 413
        client.house.forms = Throttle(2, 0.001)
        answers = [send(client, team="").status_code for _ in range(3)]
    assert answers == [422, 422, 429]
    assert not book.state.enrolments


def test_closed_or_full_is_said_before_anything_is_typed() -> None:
    book = entering_book(limit=4)
    with client_of(book) as client:
        assert "goes on the waiting list" in client.get("/enter/pairs").text
        answer = send(client)
        assert "It waits for a place" in answer.text
        assert "on the waiting list, number 1" in answer.text
        assert client.get("/enter/nothing").status_code == 404
        book.set_now(OPENS_MS - 1)
        assert "Entering opens on Monday 5 October 2026, 09:00." in client.get("/enter").text
        assert "Entering is not open now." in client.get("/enter/pairs").text


def entered(book: FakeBook, client: Any, **fields: str) -> str:
    return str(send(client, **fields).url).split("?")[0]


def test_by_its_link_a_team_changes_its_line_up_and_a_new_person_agrees_anew() -> None:
    book = entering_book(consent="Names on a list.")
    with client_of(book) as client:
        own = entered(book, client, **{"agree-A": "on", "name-B": "Ada Sample", "agree-B": "on"})
        before = book.state.teams["T17"]
        data = {**WHOLE, **change_form(client, own), "do": "change"}
        mended = client.post(own, data={**data, "name-A": "Kim Sampel", "name-B": "Zoe Other"})
        assert "Saved." in mended.text
        after = book.state.teams["T17"]
        assert before.athletes[0].person == after.athletes[0].person
        assert before.athletes[1].person != after.athletes[1].person
        people = book.people()
        assert before.athletes[1].person not in people
        assert people[after.athletes[0].person].agreed is not None
        new = after.athletes[1].person
        assert people[new].agreed is None
        data = {**change_form(client, own), "do": "agree", "person": new}
        assert "Tick that you have read" in client.post(own, data=data).text
        client.post(own, data={**data, "agree": "on"})
        assert book.people()[new].agreed.by == "self"


def test_after_the_close_a_team_still_agrees_but_changes_nothing_else() -> None:
    book = entering_book(consent="Names on a list.")
    with client_of(book) as client:
        own = entered(book, client, **{"agree-A": "on", "name-B": "Ada Sample"})
        data = {**WHOLE, **change_form(client, own), "name-B": "Ada Sample"}
        book.set_now(CLOSES_MS)
        late = client.post(own, data={**data, "do": "change", "phone": "0170 9"})
        assert "cannot enter or change their entry just now" in late.text
        person = book.state.teams["T17"].athletes[1].person
        given = {**data, "do": "agree", "person": person, "agree": "on", "key": "a"}
        assert "Saved." in client.post(own, data=given).text
    assert book.people()[person].agreed is not None
    assert book.people()[book.state.teams["T17"].captain].phone == ""


def test_of_two_changes_made_from_one_page_the_second_is_told_and_not_lost() -> None:
    book = entering_book()
    with client_of(book) as client:
        own = entered(book, client)
        data = {**WHOLE, **change_form(client, own), "do": "change"}
        client.post(own, data={**data, "team": "First change"})
        late = client.post(own, data={**data, "key": "another", "team": "Second change"})
        assert "changed by somebody else in the meantime" in late.text
        assert 'value="Second change"' in late.text
        assert book.state.teams["T17"].name == "First change"
        again = client.post(own, data={**WHOLE, **asked_of(late.text[late.text.index('id="change"') :]),
                                       "do": "change", "team": "Second change"})  # fmt: skip
        assert "Saved." in again.text


def test_a_team_withdraws_by_its_link_and_a_revoked_link_opens_nothing() -> None:
    book = entering_book()
    with client_of(book) as client:
        own = entered(book, client)
        data = {**change_form(client, own), "do": "withdraw"}
        client.post(own, data=data)
        assert "T17" not in book.state.team_status
        assert (
            "This team is not in the event any more."
            in client.post(own, data={**data, "sure": "on"}).text
        )
        assert book.state.team_status["T17"].status == "withdrawn"
        book.links.revoke("T17")
        assert "opens no team" in client.get(own).text


def test_the_fee_is_shown_with_its_reference_the_account_and_a_code() -> None:
    book = entering_book()
    line = BudgetLine(id="fee", name="Fee", side="income", sort="entries", per_team=80_00)
    scenarios = tuple(Scenario(id=one, name=one) for one in ("careful", "likely", "full"))
    place = Place(id="bank", name="Bank", sort="bank")
    budget = Budget(lines=(line,), places=(place,), scenarios=scenarios)
    book.do(DIRECTOR, money.set_budget(budget))
    book.paying.put(PayTo(name="Red Cross of Belgium", iban="BE72000000001616", words="Or cash."))
    with client_of(book) as client:
        page = client.get(entered(book, client)).text
    for text in ("80.00", "T17 Late Risers", "BE72 0000 0000 1616", "Or cash.", "<svg"):
        assert text in page


@pytest.mark.store
def test_forty_teams_enter_at_once_and_none_is_lost_or_doubled(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    book = day_book(path)
    start_ms = book.now_ms()
    book.close()
    with closing(open_book(path, clock=SteppedClock(start_ms - 86_400_000))) as book:
        event = book.state.event
        assert event is not None
        limited = replace(event.divisions[0], team_limit=30)
        book.ask_now(DIRECTOR, _set(replace(event, divisions=(limited,))), key="limit")
        opened = entering.set_entering(Entering(opens_ms=0, consent="Names on a list."))
        book.ask_now(DIRECTOR, opened, key="open")
        with served(book) as url, ThreadPoolExecutor(20) as pool:
            answers = list(pool.map(lambda number: _enter(url, number), range(40)))
        state, people = book.state, book.people()
    assert {status for status, _ in answers} == {200}
    assert len({link for _, link in answers}) == 40
    names = [one.team.name for one in state.enrolments.values()]
    assert sorted(names) == sorted(f"Crowd {number}" for number in range(40))
    assert len({one.team.id for one in state.enrolments.values()}) == 40
    # Four were in already, and thirty is the most.
    assert sum(one.status == "in" for one in state.enrolments.values()) == 26
    captains = {people[one.team.captain].name for one in state.enrolments.values()}
    assert captains == {f"Captain {number}" for number in range(40)}
    with closing(open_book(path, writing=False)) as book:
        assert len(book.state.enrolments) == 40
        assert len(book.store.side(PEOPLE).all("E")) == 40


def _set(event: Any) -> Any:
    from callroom.actions.load import load
    from callroom.model import State

    return load(State(), event=event)


def _enter(url: str, number: int) -> tuple[int, str]:
    """One phone: it opens the form, sends it, and, unsure, sends it again."""
    with httpx.Client(base_url=url, headers={"accept": "text/html"}, timeout=60) as phone:
        page = phone.get("/enter/pairs").text
        fields = {
            **WHOLE,
            "team": f"Crowd {number}",
            "name-A": f"Captain {number}",
            "agree-A": "on",
        }
        data = {**asked_of(page), **fields}
        first = phone.post("/enter/pairs", data=data, follow_redirects=True)
        again = phone.post("/enter/pairs", data=data, follow_redirects=True)
        assert first.url == again.url
        return first.status_code, str(first.url)
