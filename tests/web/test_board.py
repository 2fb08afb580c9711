"""The call board: buttons by role, pressed once or twice."""

from typing import Any

import pytest

from tests.web.building import client_of, example_book, form_token


def press(client: Any, role: Any, button: str, **headers: str) -> Any:
    data = {"form_token": form_token(role), "do": button}
    return client.post("/board", data=data, headers=headers, follow_redirects=False)


def test_a_heat_is_called_met_started_and_ended() -> None:
    book = example_book()
    with client_of(book, "crew") as client:
        for button in ("call|w1-1||0", "arrive|w1-1|T13|0", "arrive|w1-1|T14|0",
                       "arrive|w1-1|T15|0", "arrive|w1-1|T16|0", "start|w1-1||5",
                       "finish|w1-1||6"):  # fmt: skip
            assert press(client, "crew", button).status_code == 303
    run = book.state.heat_run("w1-1")
    assert run.stage == "finished"
    assert run.arrived == ("T13", "T14", "T15", "T16")


def test_pressing_twice_is_pressing_once() -> None:
    book = example_book()
    with client_of(book, "crew") as client:
        statuses = [press(client, "crew", "call|w1-1||0").status_code for _ in range(2)]
        late = press(client, "crew", "call|w1-1||7").status_code
    assert statuses == [303, 303]
    assert late == 303  # called already by somebody else: that is what was wanted
    assert len(book.entries) == 1


def test_a_heat_does_not_start_before_its_time_while_a_team_is_missing() -> None:
    book = example_book()
    with client_of(book, "crew") as client:
        press(client, "crew", "call|w1-1||0")
        response = press(client, "crew", "start|w1-1||1", **{"hx-request": "true"})
    assert response.status_code == 409
    assert response.text.startswith('<p class="told bad" role="alert">')
    assert "Two Left Feet" in response.text
    assert book.state.heat_run("w1-1").stage == "called"


def test_by_script_the_answer_is_a_fragment_without_news() -> None:
    with client_of(example_book(), "crew") as client:
        response = press(client, "crew", "call|w1-1||0", **{"hx-request": "true"})
    assert (response.status_code, response.text) == (200, "")


@pytest.mark.parametrize(
    ("role", "calls", "arrivals"),
    [(None, False, False), ("judge", False, True), ("desk", False, True), ("crew", True, True),
     ("head_judge", True, True), ("director", True, True)],
)  # fmt: skip
def test_the_buttons_are_those_of_the_role(role: Any, calls: bool, arrivals: bool) -> None:
    with client_of(example_book(), role) as client:
        text = client.get("/board").text
    assert ('value="call|' in text) is calls
    assert ('value="arrive|' in text) is arrivals


def test_a_desk_cannot_start_a_heat_even_by_hand() -> None:
    book = example_book()
    with client_of(book, "desk") as client:
        assert press(client, "desk", "start|w1-1||0").status_code == 403
    assert not book.entries


@pytest.mark.parametrize("button", ["", "call", "dance|w1-1||0", "call|w1-1", "call|none||0"])
def test_a_button_that_does_not_exist_does_nothing(button: str) -> None:
    book = example_book()
    with client_of(book, "crew") as client:
        assert press(client, "crew", button).status_code in {409, 422}
    assert not book.entries
