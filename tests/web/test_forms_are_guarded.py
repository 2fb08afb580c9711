"""Every form needs the token its page was given; nothing is left out."""

import re

import pytest
from litestar import Litestar

from callroom.web.app import addresses
from tests.web.building import ROLES, client_of, example_book, form_token

# They carry no cookie of a browser: a bearer token, or a token in a header.
NO_FORMS = {"/owner/ask", "/entries"}


def posts(app: Litestar) -> list[str]:
    """Every path that takes a POST, with something in its place-holders."""
    found = []
    for route in app.routes:
        if "POST" not in route.methods:
            continue
        path = re.sub(r"\{\w+:str\}", "x", route.path)
        found.append(re.sub(r"\{\w+:int\}", "1", path))
    return sorted(set(found))


PATHS = posts(addresses())


def test_there_are_forms_to_guard() -> None:
    assert {"/board", "/judge", "/sign-in", "/join", "/sign-out"} < set(PATHS)


@pytest.mark.parametrize("path", [path for path in PATHS if path not in NO_FORMS])
@pytest.mark.parametrize("token", ["", "wrong", form_token("crew")])
def test_a_form_without_its_own_token_is_refused(path: str, token: str) -> None:
    book = example_book()
    with client_of(book, "director") as client:
        response = client.post(
            path, data={"form_token": token}, headers={"accept": "application/json"}
        )
    assert (response.status_code, response.json()["rule"]) == (403, "web.forged")
    assert not book.entries


def test_entries_by_cookie_need_the_token_too() -> None:
    book = example_book()
    entry = {"kind": "heat.called", "data": {"heat": "w1-1"}}
    with client_of(book, "crew") as client:
        bare = client.post("/entries", json=entry, headers={"idempotency-key": "k"})
        right = {"idempotency-key": "k", "x-form-token": form_token("crew")}
        sent = client.post("/entries", json=entry, headers=right)
    assert (bare.status_code, sent.status_code) == (403, 200)


def test_a_browser_without_a_role_gets_a_token_of_its_own() -> None:
    with client_of(example_book()) as client:
        page = client.get("/join")
        cookie = page.headers["set-cookie"]
        token = page.text.split('name="form_token" value="')[1].split('"')[0]
        assert "HttpOnly" in cookie
        assert "SameSite=Strict" in cookie
        assert "Path=/" in cookie
        again = client.get("/join")
        assert "set-cookie" not in again.headers
        joined = client.post("/join", data={"form_token": token, "code": "2222-2222"})
    assert joined.status_code in {200, 303}


@pytest.mark.parametrize("role", ROLES)
def test_tokens_differ_by_session(role: str) -> None:
    others = {form_token(other) for other in ROLES if other != role}
    assert form_token(role) not in others  # type: ignore[arg-type]
