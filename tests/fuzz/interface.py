"""The whole HTTP interface as a schema that a fuzzer reads, and a real book to try it on."""

import asyncio
import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

from litestar import Litestar
from litestar.di import Provide
from litestar.openapi import OpenAPIConfig

from callroom.bootstrap.books import open_book
from callroom.bootstrap.open_book import OpenBook
from callroom.web.house import asking, house_of, posted_form
from callroom.web.routes import HANDLERS
from callroom.web.visitor import Visitor
from tests.chaos.book import chaos_book, clock_at_the_end

PASSPHRASE = "seven wet ropes in a row"
ROLES = ("judge", "desk", "crew", "head_judge", "first_aid")
_FIELD = re.compile(r'\bname="([^"{}]+)"')


@cache
def field_names() -> tuple[str, ...]:
    """The names of the fields of all forms, as far as they stand in a template."""
    found: set[str] = set()
    for template in _templates(files("callroom.web") / "templates"):
        found |= set(_FIELD.findall(template))
    return tuple(sorted(found - {"form_token", "viewport", "color-scheme", "robots"}))


def _templates(folder: Any) -> Iterator[str]:
    for entry in folder.iterdir():
        if entry.is_dir():
            yield from _templates(entry)
        elif entry.name.endswith(".html"):
            yield entry.read_text(encoding="utf-8")


@cache
def schema() -> Mapping[str, Any]:
    """The OpenAPI description of every address, forms with the fields that any form has."""
    described = Litestar(
        route_handlers=list(HANDLERS),
        dependencies={
            "house": Provide(house_of, sync_to_thread=False),
            "visitor": Provide(asking, sync_to_thread=False),
            "form": Provide(posted_form),
        },
        openapi_config=OpenAPIConfig(title="Callroom", version="1"),
    ).openapi_schema.to_schema()
    form = {
        "type": "object",
        "propertyNames": {"enum": list(field_names())},
        "additionalProperties": {"type": "string"},
        "maxProperties": 8,
    }
    entry = {
        "type": "object",
        "properties": {"kind": {"type": "string"}, "data": {"type": "object"}},
        "required": ["kind", "data"],
    }
    for path, methods in described["paths"].items():
        if "post" in methods:
            kind = "application/json" if path == "/entries" else "application/x-www-form-urlencoded"
            body = entry if path == "/entries" else form
            methods["post"]["requestBody"] = {"content": {kind: {"schema": body}}, "required": True}
    return described


@contextmanager
def real_book(folder: Path) -> Iterator[tuple[OpenBook, Mapping[str, str]]]:
    """A book on disk with a published plan, and a token for each role."""
    path = folder / "fuzzed.book"
    chaos_book(path)
    book = open_book(path, clock=clock_at_the_end())
    doors = book.doors
    asyncio.run(doors.set_passphrase(PASSPHRASE))
    tokens = {"public": "", "director": asyncio.run(doors.sign_in(PASSPHRASE, "here"))}
    for role in ROLES:
        code = doors.make_code(role, "")  # type: ignore[arg-type]
        tokens[role] = asyncio.run(doors.join(code, "", "here"))[1]
    try:
        yield book, tokens
    finally:
        book.close()


def form_token(token: str) -> str:
    """The token that ties a form to a browser with this cookie."""
    return Visitor(
        actor=None, token=token, by_cookie=True, private=True, shut_out=False, origin=""
    ).form_token
