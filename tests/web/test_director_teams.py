"""The director's teams: entered, changed, moved, accepted by hand; and the settings of entering."""

import re
from typing import Any

from msgspec.structs import replace

from callroom.actions import entering
from callroom.model.person import Agreed, Person
from tests.actions.test_entering import FORM, open_book, pair
from tests.web.building import client_of, example_book
from tests.web.test_entering import WHOLE, asked_of

NETWORK: dict[str, Any] = {"peer": "192.168.1.50", "base_url": "http://192.168.1.20:8000"}


def form_of(client: Any, path: str, heading: str = "team-form") -> dict[str, str]:
    page = client.get(path).text
    return asked_of(page[page.index(f'id="{heading}"') :])


def test_teams_are_listed_with_what_is_open_and_who_waits_in_turn() -> None:
    book = open_book(limit=5, consent="Names on a list.")
    for number in (21, 22, 23):
        book.do(FORM, entering.enrol(book.state, pair(number, name=f"Late <{number}>")))
    with client_of(book, "director") as client:
        page = client.get("/director/teams").text
        assert "2 consents missing" in page
        assert "5 of 5" in re.sub(r"\s+", " ", page)
        waiting = page[page.index('class="turns"') :]
        assert waiting.index("Late &lt;22&gt;") < waiting.index("Late &lt;23&gt;")
        # The division is full: nobody can be accepted before somebody leaves.
        assert "Accept Late" not in page
        book.do(FORM_OF_21, entering.withdraw(book.state, "T21"))
        page = client.get("/director/teams").text
        assert "One place is free: it is offered to the first in turn." in page
        data = {**asked_of(page[page.index('class="turns"') :]), "do": "accept", "from": "list"}
        client.post("/director/teams/T22", data=data)
    assert "T22" in book.state.teams


def test_who_agreed_to_what_and_when_is_shown_with_the_text() -> None:
    book = open_book(consent="Names on a list.", shirt_sizes=("S",))
    book.do(FORM, entering.enrol(book.state, pair(21)))
    agreed = Agreed(terms=1, at_ms=book.now_ms(), by="captain")
    book.beside["people"] = {"E21-A": Person(name="Kim", agreed=agreed, waiver="on paper")}
    with client_of(book, "director") as client:
        page = client.get("/director/teams/T21").text
        settings = client.get("/director/entering").text
        teams = client.get("/director/teams").text
    assert "Monday 5 October 2026, 09:00, as the captain said; signed: on paper" in page
    assert "Text 1, since Monday 5 October 2026, 09:00" in settings
    assert "not said" in teams


def test_a_team_that_was_declined_is_found_and_let_in_after_all() -> None:
    book = open_book(accept_each=True)
    book.do(FORM, entering.enrol(book.state, pair(21)))
    with client_of(book, "director") as client:
        data = {**form_of(client, "/director/teams/T21", "decide"), "do": "decline"}
        client.post("/director/teams/T21", data={**data, "reason": "full"})
        assert "T21" not in book.state.teams
        assert "Late 21" in client.get("/director/teams").text
        data = {**form_of(client, "/director/teams/T21", "leave"), "do": "back"}
        client.post("/director/teams/T21", data=data)
    assert book.state.enrolments["T21"].status == "in"
    assert "T21" in book.state.teams


def test_doubles_are_told_to_the_director() -> None:
    book = open_book()
    for number in (21, 22):
        book.do(FORM, entering.enrol(book.state, pair(number, name="The same")))
    kim = Person(name="Kim", email="kim@example.org")
    book.beside["people"] = {"E21-A": kim, "E22-B": kim}
    with client_of(book, "director") as client:
        page = client.get("/director/teams").text
    assert "Entered twice?" in page
    assert "the same name" in page
    assert "Kim is in both" in page


def test_a_team_is_entered_by_hand_without_contact_and_beyond_the_limit() -> None:
    book = open_book(limit=4)
    fields = {"team": "Walk-ups", "name-A": "Ann Walker", "paper-A": "on", "entry_rank": "3"}
    with client_of(book, "director") as client:
        data = {**form_of(client, "/director/teams/new?division=pairs"), **fields}
        answer = client.post("/director/teams/new", data={**data, "division": "pairs"})
        assert "Saved." in answer.text
        again = client.post("/director/teams/new", data={**data, "division": "pairs"})
    assert again.url == answer.url
    team = book.state.teams["T17"]
    assert (team.name, team.entry_rank, team.division) == ("Walk-ups", 3, "pairs")
    assert book.people()[team.athletes[0].person].waiver == "on paper"


def test_a_team_moves_with_everybody_in_a_place_or_not_at_all() -> None:
    book = open_book()
    with client_of(book, "director") as client:
        data = {**form_of(client, "/director/teams/T13", "move"), "do": "move"}
        client.post("/director/teams/T13", data={**data, "division": "open"})
        data = {**form_of(client, "/director/teams/T01", "move"), "do": "move"}
        refused = client.post("/director/teams/T01", data={**data, "division": "pairs"})
    assert book.state.teams["T13"].division == "open"
    assert "2 of the athletes of" in refused.text
    assert book.state.teams["T01"].division == "open"


def test_a_link_is_made_anew_shown_once_and_taken_away() -> None:
    book = open_book()
    with client_of(book, "director") as client:
        data = {**form_of(client, "/director/teams/T13", "link"), "do": "link"}
        made = client.post("/director/teams/T13", data=data).text
        found = re.search(r"/enter/team/([\w-]+)", made)
        assert found is not None
        assert book.links.team_of(found[1]) == "T13"
        assert found[1] not in client.get("/director/teams/T13").text
        client.post("/director/teams/T13", data={**data, "do": "unlink"})
    assert book.links.team_of(found[1]) == ""


def test_faults_of_the_directors_form_stand_beside_their_fields() -> None:
    book = open_book()
    with client_of(book, "director") as client:
        data = {**form_of(client, "/director/teams/T13"), **WHOLE, "do": "change"}
        answer = client.post("/director/teams/T13", data={**data, "entry_rank": "best"})
    assert 'id="entry_rank-fault"' in answer.text
    assert book.state.teams["T13"].name == "Two Left Feet"


def test_names_are_shown_only_where_nobody_reads_along() -> None:
    with client_of(example_book(), "director", **NETWORK) as client:
        for path in ("/director/teams", "/director/teams/T13", "/director/entering"):
            assert client.get(path).status_code in {401, 403}


def test_settings_are_kept_in_the_zone_of_the_book_and_limits_with_them() -> None:
    book = example_book()
    fields = {
        "opens": "2026-10-05T09:00",
        "closes": "2026-11-07T20:00",
        "limit-pairs": "6",
        "ages-open": "on",
        "adult_age": "16",
        "shirts": "S, M; L",
        "consent": "Names\r\non a list.",
        "pay_name": "Harbour Gym",
        "iban": "be72 0000 0000 1616",
    }
    with client_of(book, "director") as client:
        page = client.get("/director/entering").text
        seen = re.search(r'name="seen" value="([^"]*)"', page)
        assert seen is not None
        data = {**asked_of(page), "seen": seen[1], **fields}
        wrong = client.post("/director/entering", data={**data, "iban": "BE73000000001616",
                                                        "closes": "soon"})  # fmt: skip
        assert 'id="iban-fault"' in wrong.text
        assert 'id="closes-fault"' in wrong.text
        assert 'value="Harbour Gym"' in wrong.text
        saved = client.post("/director/entering", data=data)
        assert "Saved." in saved.text
        assert 'value="2026-10-05T09:00"' in saved.text
        late = client.post("/director/entering", data={**data, "key": "x", "shirts": "XL"})
        assert "changed elsewhere in the meantime" in late.text
    state = book.state
    # Nine o'clock in Berlin's summer time is seven in UTC.
    assert state.entering.opens_ms == 1_791_183_600_000
    assert state.entering.shirt_sizes == ("S", "M", "L")
    assert (state.entering.adult_age, state.entering.ages_in) == (16, ("open",))
    assert state.event is not None
    assert state.event.division("pairs").team_limit == 6
    assert state.terms[-1].consent == "Names\non a list."
    assert book.paying.get().iban == "BE72000000001616"


FORM_OF_21 = replace(FORM, device="link-of-T21")


def test_the_entry_sheet_is_drawn_with_the_texts_and_given_as_a_workbook() -> None:
    import io

    import pypdf

    book = open_book(consent="Names on a list.", waiver="At your own risk.", shirt_sizes=("S",))
    with client_of(book, "director") as client:
        made = client.get("/director/entering/pairs/sheet.pdf").content
        workbook = client.get("/director/entering/pairs/sheet.xlsx")
        assert client.get("/director/entering/nothing/sheet.xlsx").status_code == 404
    pages = pypdf.PdfReader(io.BytesIO(made)).pages
    text = " ".join(page.extract_text() for page in pages)
    for wanted in ("Entry: Pairs", "Names on a list.", "At your own risk.", "B · women"):
        assert wanted in text
    assert len(pages) == 1
    assert workbook.content.startswith(b"PK")
