"""Appeals on the pages of the desk and the head judge."""

from html import escape
from typing import Any

from callroom.actions import day
from callroom.model import ScoreSheet, State
from tests.web.building import DIRECTOR, FakeBook, client_of, form_token, played_book


def appealed() -> tuple[FakeBook, str, str]:
    """The book with one appeal about a reported score; the workout and the team it is about."""
    book = played_book()
    capped = (one for one in book.state.sheets.values() if one.part == "a" and _capped(one))
    sheet = next(capped)
    with client_of(book, "desk") as client:
        answer = file(client, team=sheet.team, about=f"{sheet.workout}/{sheet.part}")
    assert answer.status_code == 303, answer.text
    return book, sheet.workout, sheet.team


def _capped(sheet: ScoreSheet) -> bool:
    return sheet.counting is not None and sheet.counting.outcome == "capped"


def file(client: Any, **typed: str) -> Any:
    data = {
        "form_token": form_token("desk"),
        "key": "k",
        "do": "file",
        "ground": "arithmetic",
        "text": "Round two was not added.",
        **typed,
    }
    return client.post("/desk/appeals", data=data, follow_redirects=False)


def decide(client: Any, do: str, **typed: str) -> Any:
    data = {"form_token": form_token("head_judge"), "key": "d", "do": do, **typed}
    return client.post("/judge/appeals/1", data=data, follow_redirects=False)


def seen(state: State) -> str:
    return str(state.subjects["appeal:1"])


def test_the_desk_files_an_appeal_and_the_head_judge_finds_it() -> None:
    book, _, team = appealed()
    name = book.state.teams[team].name
    with client_of(book, "desk") as client:
        page = client.get("/desk/appeals?filed=1").text
    assert "Appeal 1 is with the head judge." in page
    assert "Round two was not added." in page
    assert "/judge/appeals/1" not in page
    with client_of(book, "head_judge") as client:
        assert escape(f"Appeal 1, {name}") in client.get("/judge").text


def test_a_late_appeal_is_refused_with_how_late_it_is() -> None:
    book = played_book()
    team = next(iter(book.state.teams.values()))
    book.do(DIRECTOR, day.post_standings(team.division))
    assert book.state.event is not None
    book.set_now(book.now_ms() + (book.state.event.rules.appeal_window_s + 60) * 1000)
    with client_of(book, "desk") as client:
        answer = file(client, team=team.id, about="")
    assert answer.status_code == 409
    assert "ended 1:00 before" in answer.text


def test_what_a_decision_would_change_is_shown_and_nothing_is_stored() -> None:
    book, _, _ = appealed()
    before = book.state
    with client_of(book, "head_judge") as client:
        page = client.get("/judge/appeals/1").text
        answer = decide(client, "try", outcome="rejected", reason="right", seen=seen(before))
        assert "No place and no points change." in answer.text
        answer = decide(
            client, "try", outcome="result", reason="added up", seen=seen(before), **best()
        )
    assert "Round two was not added." in page
    assert answer.status_code == 200
    assert "What it would change" in answer.text
    assert "1st" in answer.text
    assert book.state is before


def best() -> dict[str, str]:
    return {"a.outcome": "finished", "a.time": "1:00"}


def test_a_decision_keeps_its_effect_for_ever() -> None:
    book, workout, team = appealed()
    with client_of(book, "head_judge") as client:
        answer = decide(
            client, "decide", outcome="result", reason="added up", seen=seen(book.state), **best()
        )
        assert answer.status_code == 303, answer.text
        page = client.get("/judge/appeals/1").text
        score = client.get(f"/judge/score/{workout}/a/{team}/1").text
    for words in ("What it changed", "Upheld", "added up", escape(book.state.teams[team].name)):
        assert words in page
    assert "<strong>1st</strong>" in page
    assert "Round two was not added." in score
    assert "Appeal 1 upheld" in score


def test_an_appeal_that_moved_on_meanwhile_is_not_decided_on_the_old_page() -> None:
    book, _, _ = appealed()
    with client_of(book, "head_judge") as client:
        answer = decide(client, "decide", outcome="rejected", reason="right", seen="1")
    assert answer.status_code == 409
    assert book.state.appeals["1"].open


def test_the_public_standings_say_that_an_appeal_is_open_until_it_is_decided() -> None:
    book, _, team = appealed()
    path = f"/standings/{book.state.teams[team].division}"
    with client_of(book) as client:
        assert "One appeal is open" in client.get(path).text
        with client_of(book, "head_judge") as judge:
            decide(judge, "decide", outcome="rejected", reason="right", seen=seen(book.state))
        assert "appeal is open" not in client.get(path).text
