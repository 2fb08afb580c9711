"""The checklists on their page: tick, untick, add, take out, print."""

from typing import Any

from callroom.model.checks import PHASES
from tests.web.building import client_of, example_book, form_token


def send(client: Any, **fields: str) -> Any:
    form = {"form_token": form_token("director"), "key": "-".join(fields.values())}
    return client.post(
        "/director/checklists",
        data=form | fields,
        headers={"origin": "http://localhost:8000"},
        follow_redirects=False,
    )


def test_a_point_is_ticked_and_unticked() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        assert send(client, do="tick", check="venue").status_code == 303
        assert set(book.state.ticks) == {"venue"}
        page = client.get("/director/checklists").text
        assert "Not done after all: Agree hall" in page
        assert "Agree hall" not in client.get("/director/checklists?only=open").text
        assert send(client, do="untick", check="venue").status_code == 303
    assert book.state.ticks == {}


def test_a_point_of_ones_own_is_added_ticked_and_taken_out() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        fields = {"text": "Ask <b>for</b> the key", "phase": "before", "days": "12"}
        assert send(client, do="add", owner="kit", **fields).status_code == 303
        (own,) = book.state.own_checks.values()
        assert (own.days_before, own.post) == (12, "kit")
        page = client.get("/director/checklists?post=kit").text
        assert "Ask &lt;b&gt;for&lt;/b&gt; the key" in page
        assert "Agree hall" not in page
        send(client, do="tick", check=own.id)
        assert send(client, do="drop", check=own.id).status_code == 303
        assert not book.state.own_checks
        assert not book.state.ticks
        assert send(client, do="drop", check="venue").status_code == 409
        assert send(client, do="add", text="  ").status_code == 409
        assert all(
            f'id="phase-{phase}"' in client.get("/director/checklists").text for phase in PHASES
        )


def test_only_the_director_has_them_and_they_print() -> None:
    with client_of(example_book(), "judge") as client:
        assert client.get("/director/checklists").status_code == 403
    with client_of(example_book(), "director") as client:
        for size in ("a4", "letter"):
            assert client.get(f"/director/checklists.pdf?size={size}").content.startswith(b"%PDF")
