"""Somebody's own list in the browser: sent, said what it means, looked at, loaded."""

import html
import re
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from callroom.actions.kit_list import set_kit_item
from callroom.model import KitItem
from tests.exchange.messy import athletes_in_spanish, sixty_pairs
from tests.web.building import DIRECTOR, client_of, example_book, form_token, served
from tests.web.test_browser import complaints, context_of
from tests.web.test_entering_in_browser import PHONE, faults_of

SENT = "/director/load/teams"


def send(client: Any, data: bytes, name: str, kind: str = "teams") -> Any:
    return client.post(
        "/director/load",
        data={"form_token": form_token("director"), "kind": kind},
        files={"file": (name, data)},
        follow_redirects=False,
    )


def deed(client: Any, do: str, path: str = SENT, **fields: str) -> Any:
    """Post the form of the page as a browser would, with what is chosen in it, and `fields`."""
    page = client.get(path).text
    given: dict[str, str] = {}
    for name, body in re.findall(
        r'<select[^>]*name="([^"]+)"[^>]*>(.*?)</select>', page, re.DOTALL
    ):
        chosen = re.search(r'<option value="([^"]*)" selected', body)
        given[name] = html.unescape(chosen[1]) if chosen else ""
    for name, value in re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', page):
        given[name] = html.unescape(value)
    head = re.search(r'name="head"[^>]*value="(\d+)"', page)
    assert head is not None
    given |= {"head": head[1], "do": do} | fields
    return client.post(path, data=given, follow_redirects=False)


def test_a_messy_list_is_loaded_without_the_rows_that_are_wrong() -> None:
    book = example_book()
    before = len(book.state.teams)
    with client_of(book, "director") as client:
        assert send(client, sixty_pairs(), "Entries (2).xlsx").headers["location"] == SENT
        page = html.unescape(client.get(SENT).text)
        assert "Entries (2).xlsx, row 36, column G" in page
        assert "58 are new" in page
        refused = deed(client, "load")
        assert refused.status_code == 422
        assert "Nothing was loaded" in refused.text
        assert len(book.state.teams) == before
        done = deed(client, "load-good")
        assert done.headers["location"] == "/director/load?done=loaded"
        assert len(book.state.teams) == before + 58
        assert "ana1@example.org" in str(book.beside["people"])
        assert "ana1@" not in str(book.state.teams)
        assert client.get(SENT).status_code == 404


def test_a_division_of_the_list_is_said_to_be_another() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        send(client, sixty_pairs(), "x.xlsx")
        page = html.unescape(client.get(SENT).text)
        at = re.search(r'name="value-(\d+)-of" value="division/Masters"', page)
        assert at is not None
        deed(client, "look", **{f"value-{at[1]}": "pairs"})
        assert "59 are new" in client.get(SENT).text


def test_another_row_of_headings_is_guessed_anew_and_a_column_left_out() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        send(client, b"Our list\nteam,division,athlete,category,gym\n"
             b"One,Pairs,Ana,women,Rock\nOne,Pairs,Bo,women,Rock\n", "y.csv")  # fmt: skip
        deed(client, "look", head="0")
        assert "Nothing: no row" in client.get(SENT).text
        deed(client, "look", head="2")
        deed(client, "look", **{"column-4": ""})
        deed(client, "load")
    (team,) = (one for one in book.state.teams.values() if one.name == "One")
    assert team.gym == ""


def test_a_team_that_is_not_in_the_list_leaves_only_where_ticked() -> None:
    book = example_book()
    pairs = [one.id for one in book.state.teams.values() if one.division == "pairs"]
    with client_of(book, "director") as client:
        send(client, athletes_in_spanish(), "lista.csv")
        assert all(f"gone-{team}" in client.get(SENT).text for team in pairs)
        deed(client, "load", **{f"gone-{pairs[0]}": "on", "gone-of-another": "on"})
    assert {one for one in pairs if one in book.state.team_status} == {pairs[0]}


def test_crew_are_loaded_the_same_way() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        send(client, "Volunteer,Can do\nKim Rivers,judge\n".encode("utf-16"), "c.csv", "crew")
        assert "One is new" in client.get("/director/load/crew").text
        deed(client, "load", path="/director/load/crew")
    assert "Kim Rivers" in str(book.beside["people"])


def test_kit_that_is_not_in_the_list_stays_unless_it_is_ticked() -> None:
    book = example_book()
    rower = KitItem(id="rower", name="Rower", kind="machine", count=4)
    bench = KitItem(id="bench", name="Bench", kind="other", count=2)
    book.do(DIRECTOR, set_kit_item(book.state, rower))
    book.do(DIRECTOR, set_kit_item(book.state, bench))
    before = {item.id for item in book.state.kit}
    path = "/director/load/kit"
    with client_of(book, "director") as client:
        send(client, b"Id;Name;How many;Kind\nrower;Rower;6;machine\n", "k.csv", "kit")
        deed(client, "load", path=path)
        assert {item.id for item in book.state.kit} == before
        assert next(item.count for item in book.state.kit if item.id == "rower") == 6
        # The same list again changes nothing by itself; what is ticked goes.
        send(client, b"Id;Name;How many;Kind\nrower;Rower;6;machine\n", "k.csv", "kit")
        assert "Bench is not there any more" in client.get(path).text
        deed(client, "load", path=path, **{"gone-bench": "on"})
    assert {item.id for item in book.state.kit} == before - {"bench"}


def test_a_list_that_changes_nothing_is_loaded_all_the_same() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        for _ in range(2):
            send(client, athletes_in_spanish(), "lista.csv")
            assert deed(client, "load").headers["location"] == "/director/load?done=loaded"


@pytest.mark.parametrize(
    ("data", "told"),
    [(b"", "empty"), (b"\x00\x01\x02\xff" * 40, ""), (b"PK\x03\x04 no workbook", "workbook")],
)
def test_what_is_no_table_is_refused_and_nothing_kept(data: bytes, told: str) -> None:
    book = example_book()
    with client_of(book, "director") as client:
        answer = send(client, data, "x.xlsx")
        assert answer.status_code == 422
        assert told in answer.text
        assert client.get(SENT).status_code == 404


def test_a_list_is_let_go_of() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        send(client, sixty_pairs(), "x.xlsx")
        assert SENT in client.get("/director/load").text
        assert deed(client, "drop").headers["location"] == "/director/load?done=dropped"
        assert SENT not in client.get("/director/load").text
    assert not book.drafts("load/")


def test_nobody_else_may_send_one() -> None:
    with client_of(example_book(), "desk") as client:
        assert client.get("/director/load").status_code == 403


@pytest.mark.browser
def test_sixty_messy_teams_are_loaded_on_a_screen(browser: Browser) -> None:
    book = example_book()
    with served(book) as address, context_of(browser, address, "director") as context:
        page = context.new_page()
        heard = complaints(page)
        page.goto(f"{address}/director/load")
        page.get_by_label("File").set_input_files(
            {"name": "entries.xlsx", "mimeType": "", "buffer": sixty_pairs()}
        )
        page.get_by_role("button", name="Look at it").click()
        expect(page.get_by_role("heading", name="What the columns are")).to_be_visible()
        assert faults_of(page, "the list") == []
        page.set_viewport_size(PHONE)
        page.get_by_label("Division “Masters”").select_option("Pairs")
        page.get_by_role("button", name="Look again").last.click()
        expect(page.get_by_text("59 are new")).to_be_visible()
        page.get_by_role("button", name="Load 59 good rows").click()
        expect(page.get_by_text("It is loaded.")).to_be_visible()
        assert heard == []
    assert sum(one.name.startswith("Team ") for one in book.state.teams.values()) == 57


def test_the_same_list_again_makes_nothing_twice() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        send(client, sixty_pairs(), "x.xlsx")
        deed(client, "load-good")
        teams, people = dict(book.state.teams), set(book.beside["people"])
        send(client, sixty_pairs(), "x.xlsx")
        page = html.unescape(client.get(SENT).text)
        assert "58 are as they were" in page
        assert "are new" not in page
        deed(client, "load-good")
    assert (dict(book.state.teams), set(book.beside["people"])) == (teams, people)
