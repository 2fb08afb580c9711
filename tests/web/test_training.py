"""The self-check as a page: marked for all, kept for devices with a role."""

from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from callroom.actions.request import propose
from callroom.bootstrap.language import language_of
from callroom.journal.entries import bodies
from callroom.model import CrewMember, Role
from callroom.views.guide import guide
from callroom.views.timetable import CREW
from callroom.views.training import self_check
from callroom.web.voice import Voice
from tests.web.building import DIRECTOR, FakeBook, client_of, example_book, form_token, served


def right_answers(book: FakeBook, seed: int) -> dict[str, str]:
    """The form of one who knows everything."""
    view = guide(book.state, CREW)
    speech = Voice(book.state, view.head, language_of("en")).speech
    check = self_check(view, seed, speech)
    return {f"q{index}": str(one.right) for index, one in enumerate(check.questions)}


def posted(client: Any, role: Role, seed: int, answers: dict[str, str], key: str = "k1") -> Any:
    data = {"form_token": form_token(role), "key": key, "seed": str(seed), **answers}
    return client.post("/training", data=data)


def test_a_judge_s_result_is_kept_and_shown_to_the_director() -> None:
    book = example_book()
    with client_of(book, "judge") as client:
        asked = client.get("/training?seed=7").text
        assert asked.count("<fieldset>") == 8
        page = posted(client, "judge", 7, {**right_answers(book, 7), "q0": "9"}).text
        again = posted(client, "judge", 7, {**right_answers(book, 7), "q0": "9"})
        start = client.get("/training").text
    assert "7 of 8 right." in page
    assert page.count("Not right") == 1
    assert again.status_code == 200
    assert book.state.trainings["judge-1"].times == 1
    assert "Last time: 7 of 8 right." in start
    book.do(book.doors.holders["token-director"], _joined())
    with client_of(book, "director") as client:
        assert "7 of 8 right" in client.get("/director/devices").text


def _joined() -> Any:
    from callroom.actions import day

    return day.join_device("judge-1", "judge")


def test_a_volunteer_s_number_is_kept_with_the_result_and_a_wrong_one_is_said() -> None:
    book = example_book()
    book.do(DIRECTOR, propose(bodies.CrewSet(member=CrewMember(person="C07", posts=("judge",)))))
    with client_of(book, "judge") as client:
        wrong = client.get("/training?seed=7&person=C70").text
        assert "Nobody of the crew has the number" in wrong
        assert "<fieldset>" not in wrong
        asked = client.get("/training?seed=7&person=c07").text
        assert 'name="person" value="C07"' in asked
        posted(client, "judge", 7, {**right_answers(book, 7), "person": "C07"})
    assert book.state.is_trained("C07")
    assert book.state.trained["C07"].right == 8


def test_the_public_may_practise_and_nothing_is_kept() -> None:
    book = example_book()
    with client_of(book) as client:
        page = client.get("/training?seed=7").text
        token = page.split('name="form_token" value="')[1].split('"')[0]
        done = client.post("/training", data={"form_token": token, "key": "k", "seed": "7"})
    assert "0 of 8 right." in done.text
    assert "The director sees" not in done.text
    assert not book.entries


@pytest.mark.parametrize("seed", ["0", "-3", "x", "1e3", "99999999999999", "٣"])
def test_a_seed_that_is_no_number_is_refused(seed: str) -> None:
    with client_of(example_book()) as client:
        assert client.get("/training", params={"seed": seed}).status_code == 400


def test_drawings_carry_no_hint_which_is_right() -> None:
    with client_of(example_book(), "judge") as client:
        page = client.get("/training?seed=7").text
    form = page.split('<form method="post" action="/training"')[1]
    assert "fig-guide-dot" not in form
    assert form.count("<title>A drawn athlete</title>") == form.count("<title>")


@pytest.mark.browser
def test_the_self_check_is_taken_in_a_browser(browser: Browser) -> None:
    book = example_book()
    answers = right_answers(book, 11)
    with served(book) as url, browser.new_context(base_url=url) as context:
        port = url.rsplit(":", 1)[1]
        cookie = {"name": f"callroom-{port}", "value": "token-judge", "url": url}
        context.add_cookies([cookie])  # type: ignore[list-item]
        page = context.new_page()
        page.goto("/training?seed=11")
        for name, choice in answers.items():
            page.locator(f'input[name="{name}"][value="{choice}"]').check()
        page.get_by_role("button", name="See the answers").click()
        expect(page.get_by_role("status").first).to_contain_text("8 of 8 right.")
    assert book.state.trainings["judge-1"].right == 8
