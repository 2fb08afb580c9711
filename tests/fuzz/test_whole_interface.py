"""Nothing that can be sent to any address makes the server fail, or tells what is inside it."""

import os
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings

from callroom.web.settings import WebSettings
from callroom.web.throttle import Throttle
from tests.fuzz.interface import form_token, real_book, schema
from tests.web.building import client_of

pytestmark = pytest.mark.store

EXAMPLES = 60 if os.environ.get("CALLROOM_EXAMPLES") == "thorough" else 1
ADDRESSES = sorted(
    (path, method) for path, methods in schema()["paths"].items() for method in methods
)
# An open stream does not end; it is tried by itself in tests/web/test_live.py.
STREAMS = "/live/"


class Sender:
    """Sends what a fuzzer makes up, as one role after the other."""

    def __init__(self, client: Any, tokens: Mapping[str, str]) -> None:
        self._client = client
        self._tokens = tokens

    def status(self, role: str, path: str) -> int:
        """Return how a plain request for a page is answered."""
        return int(self._as(role).get(path).status_code)

    def _as(self, role: str) -> Any:  # a test client
        token = self._tokens[role]
        self._client.cookies.clear()
        if token:
            self._client.cookies.set("callroom-8000", token)
        return self._client

    def send(self, role: str, case: "schemathesis.Case[Any]") -> None:
        """Send one case and look at the answer."""
        client, token = self._as(role), self._tokens[role]
        kwargs = case.as_transport_kwargs(base_url="http://localhost:8000")
        if isinstance(kwargs.get("data"), dict):
            kwargs["data"] = {**kwargs["data"], "form_token": form_token(token)}
        kwargs = {name: value for name, value in kwargs.items() if name != "cookies"}
        try:
            answer = client.request(**kwargs, follow_redirects=False)
        except (UnicodeEncodeError, ValueError):
            return  # no client could send this
        place = f"{case.method} {answer.request.url} as {role}: {kwargs.get('data')!r}"
        assert answer.status_code < 500, place
        assert "Traceback" not in answer.text, place


@pytest.fixture(scope="module")
def sender(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Sender]:
    folder = tmp_path_factory.mktemp("fuzz")
    settings = WebSettings(port=8000)
    with real_book(folder) as (book, tokens), client_of(book, settings=settings) as client:
        for name in ("posts", "tries", "forms"):
            setattr(client.house, name, Throttle(10**9, 10**9))
        yield Sender(client, tokens)


def test_the_director_of_the_fuzzed_book_is_let_in(sender: Sender) -> None:
    # Otherwise everything below would be refused at the door, and try nothing.
    assert sender.status("director", "/director/plan") == 200
    assert sender.status("public", "/director/plan") == 401
    assert sender.status("public", "/standings") == 200


@pytest.mark.parametrize(("path", "method"), ADDRESSES)
def test_whatever_is_sent_is_answered(path: str, method: str, sender: Sender) -> None:
    if path.startswith(STREAMS):
        pytest.skip("a stream")
    operation = schemathesis.openapi.from_dict(dict(schema()))[path][method.upper()]

    @settings(
        max_examples=EXAMPLES,
        deadline=None,
        database=None,
        derandomize=True,
        suppress_health_check=list(HealthCheck),
    )
    @given(case=operation.as_strategy())
    def ask(case: "schemathesis.Case[Any]") -> None:
        for role in ("director", "public"):
            sender.send(role, case)

    ask()
