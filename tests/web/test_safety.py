"""The safety pages: a plan from the facts, readings, incidents whose notes stay with few."""

import re
from typing import Any

import pytest

from callroom.actions import safety as ask
from callroom.model import Role
from callroom.model.safety import SafetyFacts
from tests.web.building import DIRECTOR, client_of, example_book, form_token, played_book

NETWORK = {"peer": "192.168.1.50", "base_url": "http://192.168.1.20:8000"}


def send(client: Any, role: Role, path: str, **fields: str) -> Any:
    data = {"form_token": form_token(role), **fields}
    return client.post(path, data=data, follow_redirects=False)


def test_the_director_says_what_the_venue_is_and_the_plan_follows() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        before = client.get("/director/safety").text
        assert "Say where the defibrillator hangs" in before
        answer = send(
            client,
            "director",
            "/director/safety",
            first_aiders="2",
            aed_place="by the desk",
            aed_walk_s="40",
            spectators="120",
            **{"area-0-name": "Hall", "area-0-use": "standing", "area-0-size": "400"},
            **{"exit-0-name": "Front", "exit-0-width": "160"},
            **{"exit-1-name": "Yard", "exit-1-width": "120", "exit-1-stairs": "on"},
            minors="on",
        )
        assert answer.status_code == 303
        after = client.get("/director/safety").text
    assert "Say where the defibrillator hangs" not in after
    assert "The defibrillator hangs at: by the desk." in after
    assert "Hall: 861 people at most (400 m², people standing)." in after
    assert "guardian" in after
    facts = book.state.safety
    assert [(way.width_mm, way.stairs) for way in facts.exits] == [(1600, False), (1200, True)]
    assert (facts.spectators, facts.minors, facts.alcohol) == (120, True, False)


def test_what_cannot_be_read_is_said_beside_what_was_typed() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        answer = send(
            client,
            "director",
            "/director/safety",
            first_aiders="two",
            first_aid_place="tent",
            **{"area-0-name": "Hall"},
        )
    assert answer.status_code == 422
    assert "“two” is no whole number" in answer.text
    assert "How large is “Hall”?" in answer.text
    assert 'value="tent"' in answer.text
    assert book.state.safety == SafetyFacts()


def test_only_the_director_says_it_and_prints_it() -> None:
    for role in ("desk", "judge", "first_aid", "head_judge"):
        with client_of(example_book(), role) as client:
            assert client.get("/director/safety").status_code == 403
            assert client.get("/director/safety.pdf").status_code == 403
    with client_of(example_book(), "director") as client:
        assert client.get("/director/safety.pdf").content.startswith(b"%PDF")


def test_a_reading_says_what_it_means_and_a_wrong_one_is_asked_again() -> None:
    book = example_book()
    with client_of(book, "crew") as client:
        kept = send(
            client, "crew", "/safety/weather", floor="yard", air="33", wet_bulb="27,5", globe="41"
        )
        assert kept.status_code == 303
        page = client.get("/safety").text
        assert "Heat: stop hard work" in page
        odd = send(client, "crew", "/safety/weather", floor="yard", air="3 3")
        assert odd.status_code == 422
        none = send(client, "crew", "/safety/weather", floor="yard")
    assert "Type at least one reading" in none.text
    (weather,) = book.state.weather.values()
    assert (weather.air_c10, weather.wet_bulb_c10, weather.globe_c10) == (330, 275, 410)
    assert not weather.forecast


def test_a_time_to_come_is_a_forecast_and_thunder_alone_a_reading() -> None:
    book = example_book()
    with client_of(book, "head_judge") as client:
        send(client, "head_judge", "/safety/weather", floor="yard", air="31", at="23:59")
        send(client, "head_judge", "/safety/weather", floor="yard", thunder="on")
        page = client.get("/safety").text
    ahead, now = book.state.weather.values()
    assert (ahead.forecast, now.forecast, now.thunder) == (True, False, True)
    assert "everybody inside" in page


def note(client: Any, role: Role, **fields: str) -> Any:
    return send(client, role, "/safety/incident", sort="injury", place="lane 3", key="k1", **fields)


def test_what_was_seen_is_for_first_aid_and_the_director_and_not_in_the_journal() -> None:
    book = example_book()
    with client_of(book, "judge") as client:
        assert (
            note(client, "judge", text="Kim Sample, wrist, iced", first_aid="on").status_code == 303
        )
        again = note(client, "judge", text="Kim Sample, wrist, iced", first_aid="on")
        assert again.status_code == 303
        assert client.get("/incidents").status_code == 403
    (incident,) = book.state.incidents.values()
    assert (incident.number, incident.place, incident.first_aid, incident.open) == (
        1,
        "lane 3",
        True,
        True,
    )
    assert b"Kim" not in b"".join(entry.data for entry, _ in book.entries)
    for role, reads in (("first_aid", True), ("director", True), ("head_judge", False)):
        with client_of(book, role) as client:  # type: ignore[arg-type]
            page = client.get("/incidents")
            assert page.status_code == 200
            assert ("Kim Sample" in page.text) == reads


def test_an_incident_is_told_with_its_heat_by_name_and_by_whom_it_was_written() -> None:
    book = played_book(2, confirm=1)
    on = next(id_ for id_, run in book.state.heats.items() if run.stage == "started")
    assert book.state.plan is not None
    number = book.state.plan.heat(on).number
    with client_of(book, "first_aid") as client:
        shown = client.get("/safety").text
        assert re.search(rf'<option value="{on}">[^<]+, Heat {number}</option>', shown)
        assert 'href="#incident"' in shown
        note(client, "first_aid", heat=on)
        told = client.get("/incidents").text
    assert re.search(rf"lane 3 · [^<]+, Heat {number}", told)
    assert "label of Sam" in told


def test_over_a_network_others_can_read_no_note_is_shown_or_taken() -> None:
    book = example_book()
    with client_of(book, "judge") as client:
        note(client, "judge", text="Kim Sample, wrist, iced")
    with client_of(book, "first_aid", **NETWORK) as client:
        page = client.get("/incidents")
        assert "could read along" in page.text
        assert "Kim Sample" not in page.text
        refused = send(client, "first_aid", "/incidents/1", text="Kim again", do="add")
        assert refused.status_code == 403
        assert send(client, "first_aid", "/incidents/1", do="close").status_code == 303
    assert not book.state.incidents["1"].open
    assert len(book.beside["notes"]) == 1


def test_an_incident_is_followed_to_its_end_and_opened_again() -> None:
    book = example_book()
    with client_of(book, "first_aid") as client:
        note(client, "first_aid", text="fell")
        send(client, "first_aid", "/incidents/1", key="k2", text="rested, went home", do="close")
        assert "closed" in client.get("/incidents").text
        send(client, "first_aid", "/incidents/1", key="k3", text="called the family", do="add")
        page = client.get("/incidents").text
        assert send(client, "first_aid", "/incidents/9", do="close").status_code in {404, 409, 422}
    assert page.index("fell") < page.index("rested") < page.index("called the family")
    assert book.state.incidents["1"].open


def test_an_erased_note_is_gone_and_the_incident_stays() -> None:
    book = example_book()
    with client_of(book, "first_aid") as client:
        note(client, "first_aid", text="Kim Sample")
        book.beside["notes"].clear()
        page = client.get("/incidents").text
    assert "erased" in page
    assert "lane 3" in page


@pytest.mark.parametrize(
    ("role", "post"),
    [("judge", "Judge"), ("crew", "Floor manager"), ("desk", "Desk and announcer")],
)
def test_everyone_finds_their_own_post_first(role: Role, post: str) -> None:
    book = example_book()
    book.do(DIRECTOR, ask.set_facts(SafetyFacts(emergency_number="112")))
    with client_of(book, role) as client:
        page = client.get("/safety").text
        other = client.get("/safety?at=door").text
    assert f'aria-current="page">{post}</a>' in page
    assert "Call 112" in page
    assert 'aria-current="page">Door and walkways</a>' in other


def test_the_public_sees_nothing_of_it() -> None:
    with client_of(example_book()) as client:
        assert {client.get(path).status_code for path in ("/safety", "/incidents")} == {401}
