"""A whole book as plain values, and back."""

import json
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from callroom.journal import ATTACHMENTS, PEOPLE, SECRETS
from callroom.journal.store import FileInTheWay
from callroom.journal.stores import load_book
from callroom.model import BadInput
from tests.journal.counting import READING, Confirmed, Counted, count, saying
from tests.journal.disk import WAIT_S, bytes_beside, opened, verified
from tests.journal.test_backup import MARKS, fill_side_tables

pytestmark = pytest.mark.store

Dump = list[tuple[str, dict[str, Any]]]


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "gala.book"
    fill_side_tables(path)
    with closing(opened(path)) as store:
        pair = saying(Counted(lane="Ä ☂", reps=7), Confirmed(lane="Ä ☂"), key="pair")
        store.submit(pair).result(WAIT_S)
        store.side(SECRETS).put("raw", b"\xff\x00\x80")
    return path


def dumped(path: Path, *, share: bool = False) -> Dump:
    """Through JSON text and back, as an export would."""
    with closing(opened(path)) as store:
        text = json.dumps(list(store.dump(share=share)))
    return [(table, row) for table, row in json.loads(text)]


def test_a_dump_loads_again_to_the_same_book(path: Path, tmp_path: Path) -> None:
    dump = dumped(path)
    load_book(tmp_path / "again.book", dump, READING)
    assert verified(tmp_path / "again.book") == []
    assert dumped(tmp_path / "again.book") == dump
    with closing(opened(path)) as one, closing(opened(tmp_path / "again.book")) as other:
        assert other.state == one.state
        assert list(other.entries()) == list(one.entries())
        assert other.seal_at(3) == one.seal_at(3) is not None
        assert other.side(PEOPLE).all() == one.side(PEOPLE).all() != {}
        assert other.side(ATTACHMENTS).all() == one.side(ATTACHMENTS).all() != {}
        assert other.side(SECRETS).get("raw") == b"\xff\x00\x80"
        # Keys are kept too: what was sent before is still answered, not stored again.
        pair = saying(Counted(lane="Ä ☂", reps=7), Confirmed(lane="Ä ☂"), key="pair")
        assert other.submit(pair).result(WAIT_S).replayed


def test_a_dump_to_share_holds_nothing_personal(path: Path, tmp_path: Path) -> None:
    dump = dumped(path, share=True)
    text = repr(dump)
    for mark in MARKS.values():
        assert mark.decode() not in text
    load_book(tmp_path / "shared.book", dump, READING)
    with closing(opened(path)) as one, closing(opened(tmp_path / "shared.book")) as other:
        assert other.state == one.state


def test_every_fault_of_a_dump_is_told_at_once_and_nothing_is_left(
    path: Path, tmp_path: Path
) -> None:
    dump = dumped(path)
    last = dump[-1][1]
    sound = len(dump)
    dump.insert(0, ("songs", {"id": "x", "text": "y"}))
    dump.append(("people", {"id": "p9"}))
    dump.append(("people", {"id": "p9", "base64": "!!"}))
    dump.append(("people", {"id": "p9", "text": '{"nickname":"Zeb"}'}))
    dump.append(("people", {"id": "p1", "text": '{"name":"twice"}'}))
    dump.append(("meta", {"id": "x", "text": "half \ud800"}))
    dump.append(("journal", {**last, "seq": "four"}))
    dump.append(("journal", {**last, "seq": 2**60}))
    dump.append(("journal", {**last, "actor": "half \ud800"}))
    dump.append(("journal", {**last, "request": "xyz"}))
    with pytest.raises(BadInput) as refused:
        load_book(tmp_path / "again.book", dump, READING)
    rows = [finding.facts["row"] for finding in refused.value.findings]
    assert rows == [1, *range(sound + 2, len(dump) + 1)]
    assert len(rows) == 10
    assert not [other for other in tmp_path.iterdir() if "again" in other.name]


def test_a_dump_that_was_changed_is_refused(path: Path, tmp_path: Path) -> None:
    dump = dumped(path)
    for table, row in dump:
        if table == "journal" and "42" in row["data"]:
            row["data"] = row["data"].replace("42", "43")
    with pytest.raises(BadInput) as refused:
        load_book(tmp_path / "again.book", dump, READING)
    assert [finding.rule for finding in refused.value.findings] == ["journal.seal_broken"]


def test_the_same_key_twice_in_a_dump_is_refused(path: Path, tmp_path: Path) -> None:
    dump = dumped(path)
    dump.append(("journal", {**dump[-1][1], "seq": 99}))
    with pytest.raises(BadInput) as refused:
        load_book(tmp_path / "again.book", dump, READING)
    assert "journal.key_twice" in {finding.rule for finding in refused.value.findings}
    assert not [other for other in tmp_path.iterdir() if "again" in other.name]


def test_loading_never_overwrites(path: Path) -> None:
    before = bytes_beside(path)
    with pytest.raises(FileInTheWay):
        load_book(path, [], READING)
    assert bytes_beside(path) == before


def test_an_empty_dump_is_an_empty_book(tmp_path: Path) -> None:
    load_book(tmp_path / "empty.book", [], READING)
    with closing(opened(tmp_path / "empty.book")) as store:
        assert store.submit(count("1", 1)).result(WAIT_S).entries[0].seq == 1
