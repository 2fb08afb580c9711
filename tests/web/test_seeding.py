"""Seeding from the results on the director's page, up to the sheets that changed."""

import io
import zipfile
from html import escape
from typing import Any

from msgspec.structs import replace

from callroom.model.wish_rows import OrderInto
from callroom.views.plan_change import plan_change
from tests.web.building import FakeBook, client_of, form_token
from tests.web.test_podium import finished_state


def before_the_relay() -> FakeBook:
    """All but the last workout over and confirmed; into that one teams are seeded anew."""
    state = finished_state()
    assert state.event is not None
    wishes = replace(state.event.wishes, orders=(OrderInto(workout="w5", order="reseeded"),))
    return FakeBook(
        replace(
            state,
            event=replace(state.event, wishes=wishes),
            sheets={key: one for key, one in state.sheets.items() if one.workout != "w5"},
            heats={key: run for key, run in state.heats.items() if not key.startswith("w5")},
        )
    )


def accept(client: Any, page: str) -> Any:
    shown = page.split('name="shown" value="')[1].split('"', maxsplit=1)[0]
    about = page.split('name="about" value="')[1].split('"', maxsplit=1)[0]
    data = {"form_token": form_token("director"), "key": "k", "do": "accept"}
    data |= {"about": about, "shown": shown}
    return client.post("/director/seeding", data=data, follow_redirects=False)


def test_the_director_sees_the_heats_and_publishes_exactly_these() -> None:
    book = before_the_relay()
    before = book.state.plan
    assert before is not None
    with client_of(book, "director") as client:
        page = client.get("/director/seeding").text
        assert "would stand elsewhere" in page
        assert accept(client, page).status_code == 303
        after = client.get("/director/seeding").text
    plan = book.state.plan
    assert plan is not None
    assert plan.revision == before.revision + 1
    assert f"Plan {plan.revision}: print again" in after
    changed = [heat for heat in plan.heats if heat != before.heat(heat.id)]
    assert {heat.workout for heat in changed} == {"w5"}
    for heat in changed:
        for team in heat.teams:
            assert escape(book.state.teams[team].name) in page


def test_only_the_sheets_that_changed_are_marked() -> None:
    book = before_the_relay()
    with client_of(book, "director") as client:
        accept(client, client.get("/director/seeding").text)
        assert book.state.plan is not None
        revision = book.state.plan.revision
        answer = client.get(f"/director/seeding/{revision}/sheets.zip")
    names = zipfile.ZipFile(io.BytesIO(answer.content)).namelist()
    assert {"cards.pdf", "heat-sheets.pdf", "teams.pdf"} <= set(names)
    stale = plan_change(book.state, revision)
    before = book.state.repairs[str(revision)].before
    for card in stale.cards.cards:
        assert card.ref.workout == "w5"
        was = before.heat_of("w5", card.ref.team)
        assert card.heat is not None
        assert was is None or (was.id, was.lane_of(card.ref.team)) != (card.heat.id, card.lane)
    kept = {
        team
        for heat in book.state.plan.heats
        if heat.workout == "w5"
        for team in heat.teams
        if before.heat(heat.id).lane_of(team) == heat.lane_of(team)
    }
    assert kept.isdisjoint({card.ref.team for card in stale.cards.cards})


def test_what_changed_since_it_was_shown_is_shown_again() -> None:
    from callroom.actions import day
    from tests.web.building import DIRECTOR

    book = before_the_relay()
    with client_of(book, "director") as client:
        page = client.get("/director/seeding").text
        assert book.state.plan is not None
        division = page.split('name="about" value="w5/')[1].split('"')[0]
        gone = next(one.id for one in book.state.teams.values() if one.division == division)
        book.do(DIRECTOR, day.withdraw_team(gone, "left"))
        assert accept(client, page).status_code == 409
    assert book.state.plan.revision == finished_state().plan.revision  # type: ignore[union-attr]


def test_it_is_the_directors() -> None:
    with client_of(before_the_relay(), "head_judge") as client:
        assert client.get("/director/seeding").status_code == 403
