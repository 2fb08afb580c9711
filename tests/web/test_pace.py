"""The director's page that holds the forecast against results."""

import json
import re
from typing import Any

import pytest

from callroom.bootstrap import calibrating
from callroom.bootstrap.forecasting import forecast_of
from callroom.web.heat_lengths import HeatLengths
from tests.web.building import FakeBook, client_of, example_book, form_token, played_book


@pytest.fixture(autouse=True)
def _few_teams(monkeypatch: pytest.MonkeyPatch) -> None:
    """Enough simulated teams for a page, not for a figure."""
    calibration_of = calibrating.calibration_of
    monkeypatch.setattr(
        "callroom.web.routes.pace.calibration_of", lambda state: calibration_of(state, teams=100)
    )


def shown(book: FakeBook) -> str:
    with client_of(book, "director") as client:
        text: str = client.get("/director/pace").text
    return text


def send(book: FakeBook, **fields: str) -> Any:
    form = {
        "form_token": form_token("director"),
        "basis": json.dumps({"paces": book.state.subjects.get("paces", 0)}),
    }
    with client_of(book, "director") as client:
        return client.post("/director/pace", data=form | fields, follow_redirects=False)


def uses(text: str) -> list[tuple[str, bool]]:
    """The paces that can be ticked, and whether they are."""
    found = re.findall(r'name="use ([^"]+)" form="take"( checked)?', text)
    return [(key, bool(checked)) for key, checked in found]


def test_before_any_result_nothing_is_told() -> None:
    text = shown(example_book())
    assert "No pace can be told yet" in text
    assert not uses(text)


def test_results_are_drawn_before_and_after_and_taken_over() -> None:
    book = played_book(3, confirm=1)
    text = shown(book)
    ticked = dict(uses(text))
    assert ticked["w1/a/open"]
    assert not ticked["w5/a/open"]
    assert 'class="rug"' in text
    before = forecast_of(book.state, teams=100)
    answer = send(book, do="take", **{"use w1/a/open": "on", "use w5/a/open": "on"})
    assert answer.status_code == 303
    assert {key: one.carried for key, one in book.state.paces.items()} == {
        "w1/a/open": False,
        "w5/a/open": True,
    }
    assert "2 paces are in use" in shown(book)
    after = forecast_of(book.state, teams=100)
    for workout, moved in (("w1", True), ("w5", True), ("w2", False)):
        same = before.workout(workout).parts == after.workout(workout).parts
        assert same is not moved, workout
    assert send(book, do="drop").status_code == 303
    assert not book.state.paces
    assert forecast_of(book.state, teams=100) == before


def test_somebody_elses_decision_and_nonsense_are_refused() -> None:
    book = played_book(3, confirm=1)
    send(book, do="take", **{"use w1/a/open": "on"})
    stale = send(book, do="take", basis='{"paces":0}', **{"use w1/a/open": "on"})
    assert stale.status_code == 409
    assert send(book, do="dance").status_code == 422
    assert send(book, do="take", basis="[]").status_code == 400
    # Nothing ticked, nothing asked.
    assert send(book, do="take").status_code == 303


def test_expected_lengths_are_worked_out_once_a_heat_is_called(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked = []

    def lengths(_event: Any, paces: Any) -> dict[tuple[str, str], int]:
        asked.append({key: dict(parts) for key, parts in paces.items()})
        return {("w1", "open"): 60 * len(asked)}

    monkeypatch.setattr("callroom.web.heat_lengths.floor_lengths", lengths)
    known = HeatLengths(begin=lambda work: work())
    assert known.of(example_book().state) == {}
    book = played_book(2, confirm=1)
    assert known.of(book.state) == {("w1", "open"): 60}
    assert known.of(book.state) is known.of(book.state)
    send(book, do="take", **{"use w1/a/pairs": "on"})
    assert known.of(book.state) == {("w1", "open"): 120}
    assert list(asked[1]) == [("w1", "pairs")]
