"""The director's rota, somebody who drops out, and everybody's own day."""

import io
import itertools
import re
from typing import Any

import pypdf
import pytest
from msgspec.structs import replace

from callroom.bootstrap import rota_making as making
from callroom.bootstrap.plan_drafts import keep_searched
from callroom.bootstrap.planning import Searched
from callroom.model import CrewMember, Role, RotaRules
from callroom.model.person import Person
from callroom.planner import PlanReply
from tests.web.building import FakeBook, client_of, example_book, form_token

KEYS = itertools.count()
HOSTILE = "<b>Al</b> & Co"


@pytest.fixture(autouse=True)
def no_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """Match heat by heat only: a search in another process is tested where it lives."""
    monkeypatch.setattr(making, "ask_apart", lambda *_: True)


def staffed_book() -> FakeBook:
    book = example_book()
    crew = {
        f"P{n}": CrewMember(person=f"P{n}", posts=("judge", "desk"), experienced=True)
        for n in range(1, 13)
    }
    book.state = replace(book.state, crew=crew, rota_rules=RotaRules(posts=()))
    people = {person: Person(name=f"Name of {person}") for person in crew}
    people["P1"] = Person(name=HOSTILE)
    book.beside["people"] = people
    return book


def post(client: Any, path: str, **fields: str) -> Any:
    data = {"form_token": form_token("director"), "key": f"k{next(KEYS)}"} | fields
    return client.post(path, data=data, follow_redirects=True)


def with_rota() -> FakeBook:
    book = staffed_book()
    with client_of(book, "director") as client:
        assert post(client, "/director/rota", do="make", in_a_row="5").status_code == 200
        assert post(client, "/director/rota", do="publish").status_code == 200
    assert book.state.rota is not None
    return book


def test_a_rota_is_made_shown_as_a_draft_and_told() -> None:
    book = staffed_book()
    with client_of(book, "director") as client:
        page = post(client, "/director/rota", do="make", in_a_row="5", break_min="15").text
        assert "This is a draft" in page
        assert "Name of P2" in page
        assert "&lt;b&gt;Al&lt;/b&gt;" in page
        assert book.state.rota is None
        page = post(client, "/director/rota", do="publish").text
        assert "This is a draft" not in page
        assert page.count('class="strip"') == 12
    assert book.state.rota_rules.most_in_a_row == 5
    assert book.state.rota_rules.break_s == 900


def test_what_is_short_is_said_with_what_would_do() -> None:
    book = staffed_book()
    few = {person: member for person, member in book.state.crew.items() if person in {"P1", "P2"}}
    book.state = replace(book.state, crew=few)
    with client_of(book, "director") as client:
        page = post(client, "/director/rota", do="make").text
    assert "there are too few for the post judge" in page
    assert "more for the post judge" in page


def test_who_drops_out_is_replaced_as_shown() -> None:
    book = with_rota()
    rota = book.state.rota
    assert rota is not None
    person = rota.duties[-1].person
    with client_of(book, "director") as client:
        page = client.get(f"/director/rota/ill?person={person}&at=08:00").text
        illness = making.without(book.state, person, making_from(page))
        assert page.count(" → <strong>") == len(illness.repair.moves) > 0
        data = {"person": person, "from_s": str(illness.from_s)}
        after = post(client, "/director/rota/ill", **data)
        assert "Tell these now" in after.text
        (sheets,) = re.findall(r'href="(/director/rota/days.pdf[^"]+)"', after.text)
        pages = pypdf.PdfReader(io.BytesIO(client.get(sheets).content)).pages
        assert 1 <= len(pages) < 12
        assert client.get("/director/rota/ill?person=P99").status_code == 409
    assert book.state.rota == illness.repair.rota
    assert book.state.crew[person].free_until_s == illness.from_s


def making_from(page: str) -> int:
    return int(page.split('name="from_s" value="')[1].split('"', maxsplit=1)[0])


def test_everybody_finds_their_own_day_and_no_name_is_told_to_the_hall() -> None:
    book = with_rota()
    assert book.state.rota is not None
    person = book.state.rota.duties[0].person
    roles: tuple[Role, ...] = ("judge", "crew")
    for role in roles:
        with client_of(book, role) as client:
            page = client.get(f"/my-day?number={person.lower()}", follow_redirects=True)
            assert page.url.path == f"/my-day/{person}"
            assert "lane" in page.text
            assert "Name of" not in page.text
            assert "Nobody has the number" in client.get("/my-day?number=Q7").text
            assert client.get("/my-day/Q7").status_code == 404
    with client_of(book, "director") as client:
        assert f"Name of {person}" in client.get(f"/my-day/{person}").text or person == "P1"
    with client_of(book) as client:
        assert client.get(f"/my-day/{person}").status_code == 401
        assert client.get("/director/rota").status_code == 401


def test_the_rota_is_printed_whole_and_by_person() -> None:
    book = with_rota()
    with client_of(book, "director") as client:
        whole = client.get("/director/rota/whole.pdf").content
        days = client.get("/director/rota/days.pdf").content
    (page,) = (one.extract_text() for one in pypdf.PdfReader(io.BytesIO(whole)).pages)
    assert all(f"Name of P{n}" in page for n in range(2, 13))
    pages = [one.extract_text() for one in pypdf.PdfReader(io.BytesIO(days)).pages]
    assert len(pages) == 12
    assert HOSTILE in pages[0]


def test_a_plan_is_told_with_a_rota_made_for_it() -> None:
    book = staffed_book()
    plan = book.state.plan
    assert plan is not None
    reply = PlanReply(status="solved", plan=plan, certificate_s=plan.finish_s)
    keep_searched(book, book.state, Searched(reply=reply), book.now_ms())
    with client_of(book, "director") as client:
        assert 'name="rota" checked' in client.get("/director/plan/1").text
        assert post(client, "/director/plan/1", do="publish", rota="on").status_code == 200
    assert book.state.plan is not None
    assert book.state.rota is not None
    assert book.state.rota.plan_revision == book.state.plan.revision == plan.revision + 1


def test_one_shift_is_changed_by_hand_unless_it_cannot_be_worked() -> None:
    book = with_rota()
    rota = book.state.rota
    assert rota is not None
    late = max(rota.shifts, key=lambda shift: shift.start_s)
    holder = rota.holder_of(late.id) or ""
    beside = next(
        shift for shift in rota.shifts if shift.start_s == late.start_s and shift.id != late.id
    )
    with client_of(book, "director") as client:
        page = client.get("/director/rota").text
        assert f'<option value="{late.id}">' in page
        busy = post(client, "/director/rota", do="hand", shift=beside.id, person=holder)
        assert busy.status_code in {400, 409, 422}
        assert "while still holding" in busy.text
        freed = post(client, "/director/rota", do="hand", shift=late.id, person="")
        assert freed.status_code == 200
        assert "Tell these now" in freed.text
    assert book.state.rota is not None
    assert book.state.rota.holder_of(late.id) is None
