"""While a server has the book, commands write through it; nobody else can."""

from pathlib import Path

import httpx
import pytest

from callroom.actions.day import call_heat
from callroom.bootstrap.remote import OWNER_PATH, encode_ask
from callroom.cli.rehearsal import Stage
from callroom.journal.stores import lease_of
from tests.bootstrap.day_books import day_book
from tests.cli.running import callroom

pytestmark = pytest.mark.store

KIT = "name,kind,count\nLong bars,bar,4\n"


def test_a_list_is_loaded_and_a_plan_published_while_serving(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    (tmp_path / "kit.csv").write_text(KIT, encoding="utf-8")
    book = day_book(path)
    with Stage(book):
        ran = callroom("load", path, "--kit", tmp_path / "kit.csv")
        assert ran.code == 0, ran.err
        assert [item.count for item in book.state.kit] == [4]
        planned = callroom("plan", path, "--seconds", "5", "--json")
        assert planned.code == 0, planned.err
        assert book.state.plan is not None
        assert book.state.plan.revision == 2
        # A plan from data that has changed meanwhile is refused there as here.
        assert callroom("backup", path, tmp_path / "copy.book").code == 0
    book.close()


def test_only_the_owner_on_this_machine_writes_there(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    book = day_book(path)
    asked = encode_ask(call_heat("w1-1"), key="k")
    with Stage(book) as stage:
        lease = lease_of(path)
        assert lease is not None
        for token in ("", "guess", lease.token[:-1]):
            headers = {"Authorization": f"Bearer {token}"} if token else {}
            answer = httpx.post(stage.url + OWNER_PATH, content=asked, headers=headers)
            assert answer.status_code == 401
        assert book.state.heat_run("w1-1").stage == "waiting"
        headers = {"Authorization": f"Bearer {lease.token}"}
        assert httpx.post(stage.url + OWNER_PATH, content=asked, headers=headers).status_code == 200
        assert book.state.heat_run("w1-1").stage == "called"
        elsewhere = {**headers, "Host": "callroom.example"}
        refused = httpx.post(stage.url + OWNER_PATH, content=asked, headers=elsewhere)
        assert refused.status_code == 421
    book.close()


def test_a_lease_left_by_a_crash_is_told_as_what_it_is(tmp_path: Path) -> None:
    path = tmp_path / "day.book"
    book = day_book(path)
    book.announce(9, "nobody")
    ran = callroom("load", path, "--kit", tmp_path / "none.csv")
    assert ran.code == 2
    (tmp_path / "kit.csv").write_text(KIT, encoding="utf-8")
    ran = callroom("load", path, "--kit", tmp_path / "kit.csv")
    assert ran.code == 2
    assert "does not answer" in ran.err
    book.close()
