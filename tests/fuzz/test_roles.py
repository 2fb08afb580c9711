"""Who may do what: every kind of entry and every address, tried as every role."""

import re
from collections.abc import Mapping
from pathlib import Path
from typing import Any, get_args

import msgspec
import pytest

from callroom.actions.decide import PERMITS, decide
from callroom.actions.request import propose
from callroom.journal.entries.kinds import KINDS
from callroom.model import Actor, NotAllowed, Role, State
from callroom.web.settings import WebSettings
from tests.fuzz.interface import form_token, real_book, schema
from tests.web.building import client_of

pytestmark = pytest.mark.store

DOCS = Path(__file__).parents[2] / "docs" / "security.md"
ALL_ROLES: tuple[Role, ...] = get_args(Role)


def documented() -> Mapping[str, frozenset[str]]:
    """Return the roles that the page on security names for each kind."""
    table = DOCS.read_text(encoding="utf-8").partition("## Who may propose what")[2]
    found: dict[str, frozenset[str]] = {}
    for line in table.partition("\n## ")[0].splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        for kind in re.findall(r"`([a-z_]+\.[a-z_]+)`", cells[-1]) if line.startswith("|") else ():
            assert kind not in found, f"{kind} is listed twice"
            found[kind] = frozenset(cells[0].split(", "))
    return found


def test_the_page_names_every_kind_once_with_its_roles() -> None:
    assert documented() == {kind: permit.roles for kind, permit in PERMITS.items()}
    assert set(documented()) == set(KINDS)


@pytest.mark.parametrize("role", ALL_ROLES)
def test_each_role_may_do_what_the_page_says_and_nothing_else(role: Role) -> None:
    actor = Actor(role=role, device="device-1", name=role)
    for kind, roles in documented().items():
        body = _some(KINDS[kind].body)
        try:
            decide(State(), actor, propose(body), 0)
            refused = False
        except NotAllowed as fault:
            refused = fault.rule == "role.not_allowed"
        except Exception:  # noqa: BLE001 - past the door, an empty book refuses nearly everything
            refused = False
        if role not in roles:
            assert refused, f"{role} may do {kind}"
        elif role != "public":
            assert not refused, f"{role} may not do {kind}"


def _some(kind: type[msgspec.Struct]) -> Any:
    """Return a body that says nothing sensible: roles are asked before anything else."""
    fields = msgspec.structs.fields(kind)
    return kind(**{field.name: 0 if field.type is int else None for field in fields})


def test_a_kind_without_a_permit_cannot_be_proposed() -> None:
    assert set(PERMITS) == set(KINDS)


# ---- addresses -------------------------------------------------------------------------------

# 400: refused for want of a question in the address, before anybody looks who asks.
REFUSED = {400, 401, 403}
PEOPLE_IN_HALL = ("public", "crew", "judge", "desk", "first_aid", "head_judge")


def test_no_address_of_the_directors_answers_anybody_else(tmp_path: Path) -> None:
    settings = WebSettings(port=8000)
    with real_book(tmp_path) as (book, tokens), client_of(book, settings=settings) as client:
        for role in PEOPLE_IN_HALL:
            client.cookies.clear()
            if tokens[role]:
                client.cookies.set("callroom-8000", tokens[role])
            for path, methods in schema()["paths"].items():
                if path.startswith("/director"):
                    for method in methods:
                        answer = client.request(
                            method,
                            re.sub(r"\{[^}]+\}", "1", path),
                            data={"form_token": form_token(tokens[role])},
                            follow_redirects=False,
                        )
                        assert answer.status_code in REFUSED, (role, method, path)


def test_the_director_is_answered_nowhere_that_others_can_read_along(tmp_path: Path) -> None:
    settings = WebSettings(port=8000, hosts=("192.168.7.1",))
    at_venue = "http://192.168.7.1:8000"
    with (
        real_book(tmp_path) as (book, tokens),
        client_of(book, settings=settings, peer="192.168.7.20", base_url=at_venue) as client,
    ):
        client.cookies.set("callroom-8000", tokens["director"])
        for path, methods in schema()["paths"].items():
            if path.startswith("/director"):
                for method in methods:
                    asked = re.sub(r"\{[^}]+\}", "1", path)
                    answer = client.request(method, asked, follow_redirects=False)
                    assert answer.status_code in REFUSED, (method, path)
