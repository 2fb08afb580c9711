"""Hands: the devices of a rehearsal, each joined by a code and sending like a phone."""

import re
import time
from collections.abc import Callable

import httpx
import msgspec

from callroom.actions.request import Request, kind_of
from callroom.model import CallroomError

_FORM_TOKEN = re.compile(r'name="form_token" value="([^"]+)"')
_PATIENCE_S = 10
_TRIES = 60


class CannotJoin(CallroomError):
    """A code was not accepted, or the page to type it into was not found."""


class Refused(msgspec.Struct, frozen=True, kw_only=True):
    """A cue that the server refused for good, with its words."""

    kind: str
    status: int
    sentence: str


class Hand:
    """One device."""

    def __init__(self, url: str, code: str, label: str) -> None:
        """Join the server at `url` with `code`, as a browser would."""
        self._link = httpx.Client(base_url=url, timeout=_PATIENCE_S, trust_env=False)
        self._token = self._join(code, label)

    def _join(self, code: str, label: str) -> str:
        page = self._link.get("/join")
        found = _FORM_TOKEN.search(page.text)
        if found is None:
            raise CannotJoin("rehearsal.no_form", status=page.status_code)
        form = {"code": code, "label": label, "form_token": found.group(1)}
        self._link.post("/join", data=form)
        held = [cookie.value for cookie in self._link.cookies.jar]
        token = held[0] if len(held) == 1 else None
        if token is None or token.startswith("visit-"):
            raise CannotJoin("rehearsal.code_refused", label=label)
        return token

    def send(self, request: Request, key: str) -> tuple[Refused, ...]:
        """Send every entry of a request until it is answered; returns what was refused.

        A send without an answer may have arrived, so it is repeated under the same key.
        """
        refused = []
        for part, body in enumerate(request.proposals):
            kind = kind_of(body)
            posted = {"kind": kind, "data": msgspec.to_builtins(body, str_keys=True)}
            if request.basis:
                posted["basis"] = dict(request.basis)
            response = _until_answered(
                lambda posted=posted, part=part: self._link.post(  # type: ignore[misc]
                    "/entries",
                    content=msgspec.json.encode(posted),
                    headers={
                        "Authorization": f"Bearer {self._token}",
                        "Content-Type": "application/json",
                        "Idempotency-Key": f"{key}/{part}",
                    },
                )
            )
            if response.status_code != httpx.codes.OK:
                refused.append(_refused(kind, response))
        return tuple(refused)

    def close(self) -> None:
        """Hang up."""
        self._link.close()


def _until_answered(send: Callable[[], httpx.Response]) -> httpx.Response:
    for attempt in range(_TRIES):
        try:
            response = send()
        except httpx.TransportError:
            time.sleep(min(0.1 * 2**attempt, 2))
            continue
        if response.status_code == httpx.codes.TOO_MANY_REQUESTS:
            time.sleep(int(response.headers.get("retry-after", "1")))
        elif response.status_code >= httpx.codes.INTERNAL_SERVER_ERROR:
            time.sleep(min(0.1 * 2**attempt, 2))
        else:
            return response
    raise CallroomError("rehearsal.no_answer", tries=_TRIES)


def _refused(kind: str, response: httpx.Response) -> Refused:
    try:
        sentence = str(response.json().get("sentence", ""))
    except ValueError:
        sentence = response.text[:200]
    return Refused(kind=kind, status=response.status_code, sentence=sentence)
