"""The head judge: settle, confirm, correct, penalise; every change stays visible."""

from typing import Any

import msgspec
import pytest

from callroom.actions import day
from callroom.model import Posting, ScoreReport
from tests.web.building import (
    DIRECTOR,
    FakeBook,
    client_of,
    form_token,
    played_book,
    result_for,
)
from tests.web.test_desk import code_of

HEAT = "/judge/heat/w1-1"
SCORE = "/judge/score/w1/a/T13/1"


def rule(client: Any, path: str, role: Any = "head_judge", **typed: str) -> Any:
    data = {"form_token": form_token(role), "key": typed.pop("key", "k1")} | typed
    return client.post(path, data=data, follow_redirects=False)


def field(text: str, name: str) -> str:
    """The value of a hidden field, as the browser would send it."""
    import html

    return html.unescape(text.split(f'name="{name}" value="')[1].split('"', maxsplit=1)[0])


def report_again(book: FakeBook, team: str = "T13", lane: int = 1) -> None:
    report = ScoreReport(
        heat="w1-1",
        workout="w1",
        part="a",
        team=team,
        lane=lane,
        source="paper",
        result=result_for("time", 20),
    )
    book.do(book.doors.holders["token-desk"], day.report_score(report))


def test_a_heat_is_confirmed_as_it_was_shown() -> None:
    book = played_book(1, confirm=0)
    with client_of(book, "head_judge") as client:
        page = client.get(HEAT).text
        response = rule(client, HEAT, do="confirm", basis=field(page, "basis"))
    assert response.status_code == 303
    assert book.state.heat_run("w1-1").stage == "confirmed"


def test_a_confirmation_of_what_has_changed_since_is_refused() -> None:
    book = played_book(1, confirm=0)
    with client_of(book, "head_judge") as client:
        page = client.get(HEAT).text
        book.do(DIRECTOR, day.give_penalty(book_ref(), "late", seconds=5))
        response = rule(client, HEAT, do="confirm", basis=field(page, "basis"))
    assert response.status_code == 409
    assert book.state.heat_run("w1-1").stage == "finished"
    assert "as it is now" in response.text or "What is on now" in response.text


def book_ref() -> Any:
    from callroom.model import SheetRef

    return SheetRef(workout="w1", part="a", team="T13")


def test_two_reports_stand_side_by_side_until_one_is_chosen() -> None:
    book = played_book(1, confirm=0)
    report_again(book)
    with client_of(book, "head_judge") as client:
        heat = client.get(HEAT).text
        page = client.get(SCORE).text
        assert "Confirm this heat" not in heat
        assert "lane pad" in page
        assert "paper card" in page
        second = book.state.sheets["w1/a/T13/1"].reports[1].seq
        seen = field(page, "seen")
        response = rule(client, SCORE, do="choose", seq=str(second), seen=seen)
        assert response.status_code == 303
        after = client.get(SCORE).text
    assert book.state.sheets["w1/a/T13/1"].chosen_seq == second
    assert "One of the reports chosen" in after


def test_a_choice_made_on_an_old_page_is_refused() -> None:
    book = played_book(1, confirm=0)
    report_again(book)
    with client_of(book, "head_judge") as client:
        seen = field(client.get(SCORE).text, "seen")
        book.do(DIRECTOR, day.give_penalty(book_ref(), "late", seconds=5))
        second = book.state.sheets["w1/a/T13/1"].reports[1].seq
        response = rule(client, SCORE, do="choose", seq=str(second), seen=seen)
    assert response.status_code == 409


def test_a_correction_needs_its_reason_and_is_in_the_history() -> None:
    book = played_book(1, confirm=1)
    typed = {"do": "correct", "a.time": "6:30", "seen": "0"}
    with client_of(book, "head_judge") as client:
        bare = rule(client, SCORE, key="k1", **typed)
        done = rule(client, SCORE, key="k2", reason="clock read wrongly", **typed)
        page = client.get(SCORE).text
    assert (bare.status_code, done.status_code) == (409, 303)
    assert "Corrected to 6:30" in page
    assert "clock read wrongly" in page
    assert page.index("Lane pad: ") < page.index("Heat confirmed") < page.index("Corrected to")


def test_a_faulty_correction_is_told_beside_its_field() -> None:
    book = played_book(1, confirm=1)
    with client_of(book, "head_judge") as client:
        response = rule(client, SCORE, do="correct", reason="x", seen="0", **{"a.time": "x"})
    assert response.status_code == 422
    assert 'id="a.time-fault"' in response.text


def test_a_penalty_is_given_and_taken_back() -> None:
    book = played_book(1, confirm=0)
    with client_of(book, "head_judge") as client:
        rule(client, SCORE, key="k1", do="penalty", seconds="10", reason="left the lane")
        given = book.state.sheets["w1/a/T13/1"].penalties
        assert "Penalty +10 s" in client.get(SCORE).text
        seq = str(given[0].seq)
        rule(client, SCORE, key="k2", do="lift", seq=seq, reason="it was the neighbour")
        page = client.get(SCORE).text
    assert not book.state.sheets["w1/a/T13/1"].penalties
    assert "Penalty +10 s" in page
    assert "Penalty taken back" in page


def test_a_rerun_opens_a_second_attempt() -> None:
    book = played_book(1, confirm=0)
    with client_of(book, "head_judge") as client:
        rule(client, SCORE, do="rerun", counts_how="better", reason="the bar broke")
        assert client.get("/judge/score/w1/a/T13/2").status_code == 200
    with client_of(book, "desk") as client:
        assert "attempt 2" in client.get("/desk/card/w1/T13/2").text
    assert book.state.reruns["w1/T13"][0].counts == "better"


def test_a_rerun_is_what_desk_and_pad_ask_for_until_it_is_in() -> None:
    book = played_book(1, confirm=1)
    with client_of(book, "head_judge") as client:
        rule(client, SCORE, do="rerun", counts_how="replaces", reason="the bar broke")
        page = client.get(HEAT).text
    assert book.state.heat_run("w1-1").stage == "finished"
    assert "attempt 2" in page
    assert "Confirm this heat" not in page
    with client_of(book, "desk") as client:
        old_card = client.get(f"/c/{code_of(book)}", follow_redirects=False)
        form = old_card.headers["location"]
        now = client.get("/pad/w1-1/1/now").json()
        rule(client, form, role="desk", key="k2", **{"a.time": "6:00"})
    assert form == "/desk/card/w1/T13/2"
    assert (now["attempt"], now["zero_ms"]) == (2, None)
    with client_of(book, "head_judge") as client:
        assert "Confirm this heat" in client.get(HEAT).text


def test_a_confirmed_heat_is_opened_again_for_a_reason() -> None:
    book = played_book(1, confirm=1)
    with client_of(book, "head_judge") as client:
        rule(client, HEAT, do="reopen", reason="cards mixed up")
    assert book.state.heat_run("w1-1").stage == "finished"


@pytest.mark.parametrize(("deed", "counts"), [("take", True), ("dismiss", False)])
def test_a_report_without_a_place_is_taken_or_put_aside(deed: str, counts: bool) -> None:
    book = played_book(1, confirm=1)
    report_again(book)
    (seq,) = book.state.unplaced
    with client_of(book, "head_judge") as client:
        assert "it differs, and came after the heat was confirmed" in client.get("/judge").text
        response = rule(client, "/judge", do=deed, report=seq, reason="the card is right")
    assert response.status_code == 303
    assert not book.state.unplaced
    assert (book.state.sheets["w1/a/T13/1"].chosen_seq == int(seq)) is counts


def test_standings_are_posted_with_their_window_for_appeals() -> None:
    book = played_book(2, confirm=2)
    with client_of(book, "head_judge") as client:
        rule(client, "/judge", do="post:open")
        final = rule(client, "/judge", do="post:open", final="yes", key="k2")
        page = client.get("/standings/open").text
    assert book.state.postings["open"].final is False
    assert final.status_code == 409
    assert "appeals until" in page
    assert "Changed since then" not in page


def test_what_has_changed_since_the_final_posting_is_not_called_final() -> None:
    book = played_book(1, confirm=0)
    open_division = book.state.teams["T13"].division
    posting = Posting(seq=book.state.seq, at_ms=0, division=open_division, final=True)
    book.state = msgspec.structs.replace(book.state, postings={open_division: posting})
    with client_of(book) as client:
        before = client.get(f"/standings/{open_division}").text
        book.do(DIRECTOR, day.give_penalty(book_ref(), "late", seconds=5))
        after = client.get(f"/standings/{open_division}").text
    assert "Final." in before
    assert "Final." not in after
    assert "Changed since then." in after


@pytest.mark.parametrize(
    ("path", "typed"),
    [("/judge", {"do": "nonsense"}), (HEAT, {"do": "nonsense"}), (SCORE, {"do": "nonsense"}),
     (HEAT, {"do": "confirm", "basis": "[1"}), ("/judge", {"do": "take", "report": "1"})],
)  # fmt: skip
def test_what_cannot_be_read_is_refused(path: str, typed: dict[str, str]) -> None:
    book = played_book(1, confirm=0)
    before = book.state.seq
    with client_of(book, "head_judge") as client:
        assert rule(client, path, **typed).status_code in {400, 422, 409}
    assert book.state.seq == before


@pytest.mark.parametrize("role", ["desk", "judge", "crew"])
def test_other_roles_rule_on_nothing(role: Any) -> None:
    book = played_book(1, confirm=0)
    before = book.state.seq
    with client_of(book, role) as client:
        for path in ("/judge", HEAT, SCORE):
            response = rule(client, path, role, do="confirm", reason="x", basis="{}")
            assert response.status_code == 403
    assert book.state.seq == before
