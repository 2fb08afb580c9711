"""Coming in and leaving."""

from typing import Any

import pytest

from callroom.actions import day
from callroom.web.hosts import leads_here, open_to_phones
from callroom.web.settings import WebSettings
from callroom.web.throttle import Throttle
from tests.web.building import DIRECTOR, client_of, example_book, form_token


def own_token(client: Any, path: str) -> str:
    text: str = client.get(path).text
    return text.split('name="form_token" value="')[1].split('"', maxsplit=1)[0]


def send(client: Any, path: str, **typed: str) -> Any:
    data = {"form_token": own_token(client, path), **typed}
    return client.post(path, data=data, follow_redirects=False)


def test_the_director_signs_in_and_out() -> None:
    book = example_book()
    with client_of(book) as client:
        response = send(client, "/sign-in", passphrase="seven green bottles")
        assert (response.status_code, response.headers["location"]) == (303, "/director")
        assert client.get("/director").status_code == 200
        data = {"form_token": form_token("director")}
        out = client.post("/sign-out", data=data, follow_redirects=False)
        assert "Max-Age=0" in out.headers["set-cookie"]
    assert book.doors.holder("token-director") is None


def test_a_wrong_passphrase_is_said_and_guessing_is_slowed() -> None:
    with client_of(example_book()) as client:
        answers = [send(client, "/sign-in", passphrase="guess") for _ in range(6)]
    assert [answer.status_code for answer in answers] == [403] * 5 + [429]
    assert "That is not the passphrase" in answers[0].text
    assert answers[5].headers["retry-after"] == "4"


def test_on_first_start_a_passphrase_is_chosen_twice() -> None:
    book = example_book()
    book.doors.passphrase = ""
    with client_of(book) as client:
        assert "Choose a passphrase" in client.get("/sign-in").text
        short = send(client, "/sign-in", passphrase="short", again="short")
        differs = send(client, "/sign-in", passphrase="long enough words", again="other words")
        done = send(client, "/sign-in", passphrase="long enough words", again="long enough words")
    assert (short.status_code, differs.status_code, done.status_code) == (403, 403, 303)
    assert book.doors.passphrase == "long enough words"


def test_a_phone_joins_once_with_a_code_over_plain_http() -> None:
    book = example_book()
    with client_of(book, peer="192.168.1.77", base_url="http://192.168.1.20:8000") as client:
        looked = client.get("/join/2222-2222")
        assert 'value="2222-2222"' in looked.text
        response = send(client, "/join", code="2222-2222", label="Sam")
        assert (response.status_code, response.headers["location"]) == (303, "/pad")
        assert client.get("/pad").status_code == 200
        again = send(client, "/join", code="2222-2222", label="Kim")
    assert again.status_code == 403
    assert "Ask for a new one" in again.text


def test_joining_is_slowed_for_one_sender() -> None:
    with client_of(example_book()) as client:
        client.house.tries = Throttle(burst=2, per_s=1, tell_s=lambda: 0.0)
        statuses = [send(client, "/join", code="x").status_code for _ in range(3)]
    assert statuses == [403, 403, 429]


def test_codes_are_made_shown_with_their_address_and_used() -> None:
    book = example_book()
    with client_of(book, "director") as client:
        data = {"form_token": form_token("director"), "role": "desk", "count": "3"}
        page = client.post("/director/codes", data=data).text
    assert page.count("<svg") == 3
    assert "http://192.168.1.20:8000/join" in page  # the event's own address
    assert list(book.doors.codes.values()).count("desk") == 3


def test_codes_that_no_phone_can_open_are_said_to_be_so() -> None:
    from tests.views.building import example_event, example_state
    from tests.web.building import FakeBook

    book = FakeBook(example_state(example_event(address="")))
    with client_of(book, "director") as client:
        data = {"form_token": form_token("director"), "role": "judge", "count": "1"}
        page = client.post("/director/codes", data=data).text
    assert "does not come here" in page
    assert "start it with --hall" in page


@pytest.mark.parametrize(
    ("address", "comes"),
    [
        ("http://192.168.1.20:8000", True),
        ("http://192.168.1.21:8000", False),  # another machine
        ("http://192.168.1.20:8080", False),  # another port
        ("http://192.168.1.20", False),
        ("http://laptop.local:8000", True),  # a name: nobody can tell from here
        ("https://day.example", True),  # TLS ends before this server
        ("http://127.0.0.1:8000", False),
        ("", False),
        ("http://[", False),
    ],
)
def test_an_address_of_another_machine_or_port_is_seen(address: str, comes: bool) -> None:
    settings = WebSettings(hosts=("192.168.1.20", "127.0.0.1", "laptop"), port=8000)
    assert leads_here(address, settings) is comes
    assert open_to_phones(settings) == ("http://192.168.1.20:8000",)


@pytest.mark.parametrize(
    "typed",
    [{"role": "director"}, {"role": "judge", "count": "41"}, {"role": "judge", "count": "-1"},
     {"role": "public"}, {}],
)  # fmt: skip
def test_codes_for_a_director_or_in_masses_are_not_made(typed: dict[str, str]) -> None:
    book = example_book()
    before = dict(book.doors.codes)
    with client_of(book, "director") as client:
        data = {"form_token": form_token("director"), **typed}
        status = client.post("/director/codes", data=data).status_code
    if typed == {"role": "judge", "count": "-1"}:
        assert status == 200  # not a number, so one
    else:
        assert status == 422
        assert book.doors.codes == before


def test_a_device_loses_its_role() -> None:
    book = example_book()
    book.do(DIRECTOR, day.join_device("judge-1", "judge"))
    with client_of(book, "director") as client:
        assert "label of judge-1" in client.get("/director/devices").text
        data = {"form_token": form_token("director"), "key": "k", "device": "judge-1"}
        client.post("/director/devices", data=data)
        page = client.get("/director/devices").text
    assert book.state.devices["judge-1"].revoked_seq is not None
    assert "role taken" in page


def test_only_the_director_makes_codes() -> None:
    book = example_book()
    with client_of(book, "head_judge") as client:
        data = {"form_token": form_token("head_judge"), "role": "judge", "count": "1"}
        assert client.post("/director/codes", data=data).status_code == 403
    assert list(book.doors.codes) == ["2222-2222"]


def test_nobody_but_the_machine_itself_sets_the_first_passphrase() -> None:
    book = example_book()
    book.doors.passphrase = ""
    settings = WebSettings(port=8000, hosts=("callroom.example",))
    with client_of(book, base_url="https://callroom.example:8000", settings=settings) as client:
        assert client.get("/sign-in").status_code == 403
        data = {"passphrase": "a b c d e f g", "again": "a b c d e f g"}
        assert client.post("/sign-in", data=data).status_code == 403
    assert book.doors.passphrase == ""


def test_a_page_of_codes_that_is_reloaded_leads_back_and_makes_none() -> None:
    book = example_book()
    before = dict(book.doors.codes)
    with client_of(book, "director") as client:
        assert "Devices that joined" in client.get("/director/codes").text
    assert book.doors.codes == before
